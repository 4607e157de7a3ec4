// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// One wedge of clear plastic: its place and shape, and how the ray from the examiner goes through
// front and back to the plane of the pupils.
uniform mat4 uToClip;
uniform vec2 uPixels;
uniform float uPixel, uEyePlane, uIndex, uApex;
uniform vec3 uCentre, uNormal, uBase, uAlong;  // middle of the back face and its axes
uniform vec4 uSize;   // half width, half step, thickness at the apex, 1 for a bar

vec2 toPixels(vec3 p) {
  vec4 q = uToClip * vec4(p, 1.);
  return (q.xy / q.w * .5 + .5) * uPixels;
}
// In the wedge's own axes: x to the base, y along the bar, z to the examiner.
vec3 toWedge(vec3 v) { return vec3(dot(v, uBase), dot(v, uAlong), dot(v, uNormal)); }
vec3 wedgeFront() { return vec3(-sin(uApex), 0., cos(uApex)); }
float frontAt(vec3 o, vec3 way) {
  float middle = uSize.z + uSize.x * tan(uApex);
  return (middle * cos(uApex) - dot(wedgeFront(), o)) / dot(wedgeFront(), way);
}
// Where what is seen at `hit` on the front is in the picture, with the ray inside the wedge and
// beyond it; `away` is 0 if it is totally reflected.
vec2 seenAt(vec3 hit, vec3 way, out vec3 inside, out vec3 away) {
  inside = refract(way, wedgeFront(), 1. / uIndex);
  away = refract(inside, vec3(0., 0., 1.), uIndex);
  vec3 p = hit + inside * (-hit.z / inside.z);
  vec3 from = uCentre + uBase * p.x + uAlong * p.y + uNormal * p.z;
  vec3 on = uBase * away.x + uAlong * away.y + uNormal * away.z;
  return toPixels(from + on * ((uEyePlane - from.z) / on.z));
}
