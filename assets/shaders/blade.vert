#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The flat of the blade is lit the same all over.
uniform mat4 uToClip;
uniform vec3 uOrigin;
uniform vec4 uQuad;  // x0 y0 x1 y1, mm on the plane
out vec2 vLocal;
flat out vec3 vLit;
#include "light.glsl"
#include "blade.glsl"
void main() {
  vec2 q = vec2[6](vec2(0, 0), vec2(1, 0), vec2(1, 1),
                   vec2(0, 0), vec2(1, 1), vec2(0, 1))[gl_VertexID];
  vLocal = mix(uQuad.xy, uQuad.zw, q);
  vec3 n = cross(uAcross, uUpward);
  vLit = BLADE *
         (sky(dot(n, uUp)) * 1.1 + max(dot(n, uKey), 0.) * KEY + max(dot(n, uFill), 0.) * FILL);
  gl_Position = uToClip * vec4(uOrigin + uAcross * vLocal.x + uUpward * vLocal.y, 1.);
}
