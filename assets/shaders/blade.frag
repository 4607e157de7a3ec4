#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
in vec2 vLocal;
flat in vec3 vLit;
out vec4 oColour;
#include "light.glsl"
#include "blade.glsl"
void main() { oColour = vec4(film(vLit + satin(vLocal)), 1.); }
