#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// All of what is drawn into.
void main() {
  gl_Position = vec4(vec2[3](vec2(-1, -1), vec2(3, -1), vec2(-1, 3))[gl_VertexID], 0., 1.);
}
