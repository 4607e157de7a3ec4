// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The flat of the occluder's blade: satin black, the lamp on it as a wide, faint pool.
uniform vec3 uAcross, uUpward;
const vec3 BLADE = vec3(.0205, .0235, .0275);
vec3 satin(vec2 at) {
  vec2 pool = (at - vec2(-8., 14.)) / vec2(34., 40.);
  return vec3(.012) * exp(-dot(pool, pool));
}
