#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The blade's, in its own frame.
#include "shadow.glsl"
#include "plate.glsl"
float edge(vec2 p) { return boxEdge(p, uPlate.xy, uPlate.z); }
void main() { oColour = shadow(edge(vLocal + uShift), edge(vLocal)); }
