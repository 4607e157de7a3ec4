#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The middle of a wedge, where every ray goes in through the front and out through the back: how
// far it is bent changes so slowly that it is found at the corners of a few cells.
uniform vec3 uCam;
uniform vec3 uOrigin, uAcross, uUpward;
uniform vec4 uQuad;  // x0 y0 x1 y1, mm on the plane
out vec2 vSeen, vHit;  // pixels; mm on the wedge's front
#include "wedge.glsl"
const int CELLS = 8;   // each way; as many as the program draws
void main() {
  int cell = gl_VertexID / 6;
  vec2 corner = vec2[6](vec2(0, 0), vec2(1, 0), vec2(1, 1),
                        vec2(0, 0), vec2(1, 1), vec2(0, 1))[gl_VertexID % 6];
  vec2 q = (vec2(cell % CELLS, cell / CELLS) + corner) / float(CELLS);
  vec2 at = mix(uQuad.xy, uQuad.zw, q);
  vec3 pos = uOrigin + uAcross * at.x + uUpward * at.y;
  vec3 o = toWedge(uCam - uCentre), way = toWedge(normalize(pos - uCam));
  vec3 hit = o + way * frontAt(o, way), inside, away;
  vSeen = seenAt(hit, way, inside, away) - toPixels(pos);
  vHit = hit.xy;
  gl_Position = uToClip * vec4(pos, 1.);
}
