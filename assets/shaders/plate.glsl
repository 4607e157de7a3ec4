// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The occluder's outline: distance to its edge, mm, negative inside.
uniform vec4 uPlate;  // half width, half height, corner radius, thickness
// From the plane that is drawn on to the blade's frame, and to the handle's: cosine and sine each.
uniform vec4 uTurn;
vec2 turned(vec2 p, vec2 t) { return vec2(p.x * t.x + p.y * t.y, p.y * t.x - p.x * t.y); }
float boxEdge(vec2 p, vec2 b, float r) {
  vec2 q = abs(p) - b + r;
  return length(max(q, 0.)) + min(max(q.x, q.y), 0.) - r;
}
float bladeEdge(vec2 p) { return boxEdge(turned(p, uTurn.xy), uPlate.xy, uPlate.z); }
float handleEdge(vec2 p) {
  float y = -uPlate.y - 58.;
  return boxEdge(turned(p, uTurn.zw) - vec2(0., y), vec2(5.5, 62.), 4.);
}
float plateEdge(vec2 p) {
  float a = bladeEdge(p), b = handleEdge(p);
  float h = max(5. - abs(a - b), 0.) / 5.;  // a fillet where the handle joins
  return min(a, b) - h * h * 1.25;
}
