#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The power cut into the front of a prism: dark strokes with a light lower edge.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
uniform sampler2D uEngraving;
uniform float uPixel, uDigits;
uniform vec4 uLabel;  // glyphs, below 0 none
float engraved(vec2 p) {
  const vec2 CELL = vec2(2.5, 3.75);
  float k = floor(p.x / CELL.x);
  float glyph = k < 1. ? uLabel.x : k < 2. ? uLabel.y : k < 3. ? uLabel.z : uLabel.w;
  vec2 inCell = vec2(p.x / CELL.x - k, clamp(p.y / CELL.y, .02, .98));
  float d = textureLod(uEngraving, vec2((glyph + inCell.x) / 11., inCell.y), 0.).r;
  float soft = clamp(uPixel * .35, .04, .2);
  return smoothstep(.5 - soft, .5 + soft, d);
}
void main() {
  vec2 p = vLocal + vec2(1.25 * uDigits, 1.9);
  float cut = engraved(p), rim = clamp(engraved(p + vec2(.14, -.14)) - cut, 0., 1.);
  oColour = vec4(film(vec3(.20)) * rim, cut * .72);
}
