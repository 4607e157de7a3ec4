#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// What the plate takes from the face, or what holds it: the lamp's light, softly, and some of the
// sky's. One after the other: where both do, each leaves its share.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "plate.glsl"
uniform vec2 uShift;  // from a point of the face to where its ray to the lamp meets the plate
uniform float uGap, uStrength;
uniform int uHeld;  // 0 the blade, 1 its handle, 2 the hand too
float shadowEdge(vec2 p) {
  if (uHeld == 0) return bladeEdge(p);
  float d = handleEdge(p);
  if (uHeld == 2) {
    vec2 h = turned(p, uTurn.zw);
    h.y += uPlate.y;
    d = min(d, min(boxEdge(h - vec2(0., -51.), vec2(30., 39.), 12.),
                   boxEdge(h - vec2(0., -133.), vec2(19., 52.), 10.)));
  }
  return d;
}
void main() {
  float soft = 1.2 + .26 * uGap;
  float lamp = smoothstep(soft, -soft, shadowEdge(vLocal + uShift)) * .50 * exp(-uGap / 120.);
  float wide = 2.5 + .36 * uGap;
  float sky = smoothstep(wide, -wide, shadowEdge(vLocal)) * .42 * exp(-uGap / 50.);
  float a = 1. - (1. - lamp * uStrength) * (1. - sky * uStrength);
  a *= smoothstep(74., 64., abs(vPos.x));  // the wall beside the head is far away
  // What is left: light that went through the skin from beside the shadow is red.
  oColour = vec4(1. - a * vec3(.88, 1., 1.03), 1.);
}
