// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A linked pair of shaders, from the sources that are built into the binary.
#pragma once

#include <glm/glm.hpp>

#include <string>
#include <string_view>

#include "render/gl/handle.hpp"

namespace redress::gl {

/// Source of one shader file of assets/shaders with its `#include "..."` lines filled in.
std::string find_shader_source(std::string_view file);

class Program {
 public:
  /// Compiles and links; throws Error with the driver's log.
  Program(std::string_view vertex_file, std::string_view fragment_file);

  void use() const { glUseProgram(program_.id()); }
  // Set a uniform of the program in use; a name that the driver optimised away is ignored.
  void set(const char* name, int value) const;
  void set(const char* name, float value) const;
  void set(const char* name, glm::vec2 value) const;
  void set(const char* name, glm::vec3 value) const;
  void set(const char* name, glm::vec4 value) const;
  void set(const char* name, const glm::mat3& value) const;
  void set(const char* name, const glm::mat4& value) const;

 private:
  ProgramHandle program_;
};

}  // namespace redress::gl
