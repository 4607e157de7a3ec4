#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
in vec2 vSeen, vHit;
out vec4 oColour;
#include "light.glsl"
uniform vec2 uPixels;
uniform vec4 uSize;
#include "glass.glsl"
void main() {
  vec3 glass = mirrorIn(throughGlass(gl_FragCoord.xy, vSeen), vHit);
  oColour = vec4(glass * (1. - .22 * nearEnds(vHit)), 1.);
}
