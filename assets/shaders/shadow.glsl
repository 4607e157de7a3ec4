// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// What something that is held takes from the face: the lamp's light, softly, and some of the sky's.
// One thing after the other: where two do, each leaves its share.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
uniform vec2 uShift;  // from a point of the face to where its ray to the lamp meets what is held
uniform float uGap, uStrength;
vec4 shadow(float toLampsEdge, float toEdge) {
  float soft = 1.2 + .26 * uGap;
  float lamp = smoothstep(soft, -soft, toLampsEdge) * .50 * exp(-uGap / 120.);
  float wide = 2.5 + .36 * uGap;
  float sky = smoothstep(wide, -wide, toEdge) * .42 * exp(-uGap / 50.);
  float a = 1. - (1. - lamp * uStrength) * (1. - sky * uStrength);
  a *= smoothstep(74., 64., abs(vPos.x));  // the wall beside the head is far away
  // What is left: light that went through the skin from beside the shadow is red.
  return vec4(1. - a * vec3(.88, 1., 1.03), 1.);
}
