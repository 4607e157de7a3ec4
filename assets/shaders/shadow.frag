#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// What the plate takes from the face: the lamp's light, softly, and some of the sky's.
in vec2 vLocal;
out vec4 oColour;
#include "plate.glsl"
uniform vec2 uShift;  // from a point of the face to where its ray to the lamp meets the plate
uniform float uGap, uStrength;
void main() {
  float soft = 1.2 + .26 * uGap;
  float lamp = smoothstep(soft, -soft, plateEdge(vLocal + uShift)) * .50 * exp(-uGap / 120.);
  float wide = 2.5 + .36 * uGap;
  float sky = smoothstep(wide, -wide, plateEdge(vLocal)) * .42 * exp(-uGap / 50.);
  float a = 1. - (1. - lamp * uStrength) * (1. - sky * uStrength);
  // What is left: light that went through the skin from beside the shadow is red.
  oColour = vec4(1. - a * vec3(.88, 1., 1.03), 1.);
}
