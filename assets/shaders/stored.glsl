// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// What was read of a picture, as linear light.
uniform float uStored;  // 1: it is read as it is stored, encoded to sRGB
vec3 decode(vec3 c) {   // IEC 61966-2-1, as a cubic within 0.002
  return uStored > .5 ? c * (c * (c * .305306011 + .682171111) + .012522878) : c;
}
