#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The maps of a hand, lit.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
uniform sampler2D uSkin, uShape;
uniform vec4 uMap;  // x0 y0 x1 y1 of the maps, mm on the plane
uniform vec3 uAcross, uUpward;
uniform float uMirror;  // -1: the maps of a right hand show a left one
void main() {
  vec2 uv = (vec2(vLocal.x * uMirror, vLocal.y) - uMap.xy) / (uMap.zw - uMap.xy);
  vec4 skin = textureLod(uSkin, uv, 0.);
  vec4 shape = textureLod(uShape, uv, 0.);
  vec2 slope = (shape.xy * 2. - 1.) * vec2(uMirror, 1.);
  vec3 n = uAcross * slope.x + uUpward * slope.y +
           cross(uAcross, uUpward) * sqrt(max(1. - dot(slope, slope), .02));
  const vec3 w = vec3(.30, .16, .12);  // light that comes through the skin is red
  vec3 light = sky(dot(n, uUp)) * .95 + clamp((dot(n, uKey) + w) / (1. + w), 0., 1.) * KEY * .9 +
               max(dot(n, uFill), 0.) * FILL;
  float shade = shape.z;
  vec3 c = skin.rgb * skin.rgb * light * mix(vec3(.72, .60, .56) * shade, vec3(1.), shade);
  float half_ = max(dot(n, normalize(uKey + normalize(uCam - vPos))), 0.);
  float b = half_ * half_;
  b *= b;
  b *= b;  // to the eighth
  c += b * b * b * shape.w * .25 * shade;
  oColour = vec4(film(c) * skin.a, skin.a);
}
