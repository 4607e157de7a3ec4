#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
#include "blade.glsl"
void main() {
  vec3 n = cross(uAcross, uUpward);
  vec3 light = sky(dot(n, uUp)) * 1.1 + max(dot(n, uKey), 0.) * KEY + max(dot(n, uFill), 0.) * FILL;
  oColour = vec4(film(BLADE * light + satin(vLocal)), 1.);
}
