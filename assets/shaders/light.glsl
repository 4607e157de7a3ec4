// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// Lamps are fixed in the room; the program hands their directions over in the head's picture frame.
uniform vec3 uCam;  // examiner, mm
uniform vec3 uKey, uFill, uUp;
uniform float uExposure;  // how bright the room is
const vec3 KEY = vec3(1.42, 1.30, 1.16), FILL = vec3(.36, .325, .30);
vec3 sky(float up) {
  return mix(vec3(.150, .118, .098), vec3(.335, .315, .300), .5 + .5 * up);
}
// Soft shoulder; encoding to sRGB is the target's.
vec3 film(vec3 c) {
  c *= .92 * uExposure;
  return c * (1. + c * .06) / (1. + c * .30);
}
