// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The outline of a spectacle lens: distance to it, mm, negative inside. vLocal is mm on the plane
// of the lenses from the middle of the rim.
uniform vec4 uShape;    // half width, half height, corner, rim of the lens
uniform vec3 uAcross, uUpward;
uniform float uPixel;
float boxEdge(vec2 p, vec2 b, float r) {
  vec2 q = abs(p) - b + r;
  return length(max(q, 0.)) + min(max(q.x, q.y), 0.) - r;
}
float lensEdge(vec2 p) {  // narrower below than above unless it is round
  float taper = uShape.z < uShape.y - .01 ? .11 * clamp(p.y / uShape.y, -1., 1.) : 0.;
  return boxEdge(vec2(p.x * (1. - taper), p.y), uShape.xy, uShape.z);
}
