#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// A rectangle in the head's picture frame, without any buffer.
uniform mat4 uToClip;
uniform vec4 uQuad;  // x0 y0 x1 y1, mm
uniform float uQuadZ;
out vec3 vPos;
void main() {
  vec2 q = vec2[6](vec2(0, 0), vec2(1, 0), vec2(1, 1),
                   vec2(0, 0), vec2(1, 1), vec2(0, 1))[gl_VertexID];
  vPos = vec3(mix(uQuad.xy, uQuad.zw, q), uQuadZ);
  gl_Position = uToClip * vec4(vPos, 1.);
}
