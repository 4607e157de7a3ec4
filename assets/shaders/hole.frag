#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// Nothing: here the eye will show.
out vec4 oColour;
void main() { oColour = vec4(0.); }
