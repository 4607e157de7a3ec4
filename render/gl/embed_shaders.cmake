# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# cmake -DOUT=file.cpp "-DFILES=a;b" -P embed_shaders.cmake: writes the files as string literals.
set(text "// Generated from assets/shaders at build time.\n")
string(APPEND text "#include \"render/gl/embedded_shaders.hpp\"\n\n#include <array>\n\n")
string(APPEND text "namespace redress::gl {\nnamespace {\n\n")
string(REPLACE "|" ";" FILES "${FILES}")
list(LENGTH FILES count)
string(APPEND text "constexpr std::array<EmbeddedShader, ${count}> kShaders{{\n")
foreach(file IN LISTS FILES)
  get_filename_component(name "${file}" NAME)
  file(READ "${file}" source)
  string(APPEND text "    {\"${name}\", R\"glsl(${source})glsl\"},\n")
endforeach()
string(APPEND text "}};\n\n}  // namespace\n\n")
string(APPEND text "std::span<const EmbeddedShader> embedded_shaders() { return kShaders; }\n\n")
string(APPEND text "}  // namespace redress::gl\n")
file(WRITE "${OUT}" "${text}")
