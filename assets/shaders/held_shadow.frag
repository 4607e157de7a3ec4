#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The shadow of the handle, fist and forearm that hold a blade, in the handle's frame.
#include "shadow.glsl"
#include "plate.glsl"
uniform float uHand;  // 0: of the handle alone
float edge(vec2 p) {
  vec2 h = p + vec2(0., uPlate.y);
  float hand = min(boxEdge(h - vec2(0., -51.), vec2(30., 39.), 12.),
                   boxEdge(h - vec2(0., -133.), vec2(19., 52.), 10.));
  return min(handleEdge(p), hand + 1e3 * (1. - uHand));
}
void main() { oColour = shadow(edge(vLocal + uShift), edge(vLocal)); }
