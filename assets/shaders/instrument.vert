#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// A rectangle on a plane in the head's picture frame.
uniform mat4 uToClip;
uniform vec3 uOrigin, uAcross, uUpward;
uniform vec4 uQuad;  // x0 y0 x1 y1, mm on the plane
out vec3 vPos;
out vec2 vLocal;
void main() {
  vec2 q = vec2[6](vec2(0, 0), vec2(1, 0), vec2(1, 1),
                   vec2(0, 0), vec2(1, 1), vec2(0, 1))[gl_VertexID];
  vLocal = mix(uQuad.xy, uQuad.zw, q);
  vPos = uOrigin + uAcross * vLocal.x + uUpward * vLocal.y;
  gl_Position = uToClip * vec4(vPos, 1.);
}
