// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/program.hpp"

#include <glm/gtc/type_ptr.hpp>

#include <array>

#include "render/gl/embedded_shaders.hpp"

namespace redress::gl {
namespace {

std::string_view find_embedded(std::string_view file) {
  for (const EmbeddedShader& s : embedded_shaders()) {
    if (s.name == file) return s.text;
  }
  throw Error("shader not built in: " + std::string(file));
}

GLuint compile(GLenum stage, std::string_view file) {
  const std::string text = find_shader_source(file);
  const char* const source = text.c_str();
  const GLuint shader = glCreateShader(stage);
  glShaderSource(shader, 1, &source, nullptr);
  glCompileShader(shader);
  GLint ok = 0;
  glGetShaderiv(shader, GL_COMPILE_STATUS, &ok);
  if (ok == 0) {
    std::array<char, 4096> log{};
    glGetShaderInfoLog(shader, static_cast<GLsizei>(log.size()), nullptr, log.data());
    glDeleteShader(shader);
    throw Error(std::string(file) + ": " + log.data());
  }
  return shader;
}

}  // namespace

std::string find_shader_source(std::string_view file) {
  constexpr std::string_view kKey = "#include \"";
  std::string out;
  std::string_view rest = find_embedded(file);
  while (!rest.empty()) {
    const std::size_t end = rest.find('\n');
    const std::string_view line = rest.substr(0, end);
    if (line.starts_with(kKey)) {
      const std::size_t close = line.rfind('"');
      out += find_shader_source(line.substr(kKey.size(), close - kKey.size()));
    } else {
      out += line;
    }
    out += '\n';
    rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
  }
  return out;
}

Program::Program(std::string_view vertex_file, std::string_view fragment_file)
    : program_(ProgramHandle::make()) {
  const GLuint vertex = compile(GL_VERTEX_SHADER, vertex_file);
  const GLuint fragment = compile(GL_FRAGMENT_SHADER, fragment_file);
  glAttachShader(program_.id(), vertex);
  glAttachShader(program_.id(), fragment);
  glLinkProgram(program_.id());
  // Attached, a deleted shader would stay in memory with all that it was compiled from.
  for (const GLuint shader : {vertex, fragment}) {
    glDetachShader(program_.id(), shader);
    glDeleteShader(shader);
  }
  GLint ok = 0;
  glGetProgramiv(program_.id(), GL_LINK_STATUS, &ok);
  if (ok == 0) {
    std::array<char, 4096> log{};
    glGetProgramInfoLog(program_.id(), static_cast<GLsizei>(log.size()), nullptr, log.data());
    throw Error(std::string(vertex_file) + " + " + std::string(fragment_file) + ": " + log.data());
  }
}

void Program::set(const char* name, int value) const {
  glUniform1i(glGetUniformLocation(program_.id(), name), value);
}
void Program::set(const char* name, float value) const {
  glUniform1f(glGetUniformLocation(program_.id(), name), value);
}
void Program::set(const char* name, glm::vec2 value) const {
  glUniform2fv(glGetUniformLocation(program_.id(), name), 1, glm::value_ptr(value));
}
void Program::set(const char* name, glm::vec3 value) const {
  glUniform3fv(glGetUniformLocation(program_.id(), name), 1, glm::value_ptr(value));
}
void Program::set(const char* name, glm::vec4 value) const {
  glUniform4fv(glGetUniformLocation(program_.id(), name), 1, glm::value_ptr(value));
}
void Program::set(const char* name, const glm::mat3& value) const {
  const GLint at = glGetUniformLocation(program_.id(), name);
  glUniformMatrix3fv(at, 1, GL_FALSE, glm::value_ptr(value));
}
void Program::set(const char* name, const glm::mat4& value) const {
  const GLint at = glGetUniformLocation(program_.id(), name);
  glUniformMatrix4fv(at, 1, GL_FALSE, glm::value_ptr(value));
}

}  // namespace redress::gl
