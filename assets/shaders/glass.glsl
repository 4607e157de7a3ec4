// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// What a wedge shows and mirrors, the same in its middle and near its edges.
uniform sampler2D uBehind;
uniform float uSpread;
#include "stored.glsl"
// Blue is bent more than red, by the dispersion 1/V.
vec3 throughGlass(vec2 here, vec2 shift) {
  return decode(vec3(textureLod(uBehind, (here + shift * (1. - uSpread)) / uPixels, 0.).r,
                     textureLod(uBehind, (here + shift) / uPixels, 0.).g,
                     textureLod(uBehind, (here + shift * (1. + uSpread)) / uPixels, 0.).b)) *
         vec3(.915, .930, .930);
}
// A faint window across its front, and little light near the bevelled ends.
vec3 mirrorIn(vec3 glass, vec2 hit) {
  float streak = smoothstep(.16, .0, abs(hit.x / uSize.x + .12 * hit.y / uSize.y + .42) - .02);
  return glass + film(vec3(.019, .020, .021)) + streak * film(vec3(.050, .052, .054));
}
float nearEnds(vec2 hit) { return smoothstep(2.2, .5, uSize.x - abs(hit.x)); }
