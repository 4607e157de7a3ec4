#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// A strand shines where the lamp is square to it [Kajiya & Kay 1989].
in vec3 vAlong, vView;
in vec4 vHair;
out vec4 oColour;
#include "light.glsl"
uniform vec3 uColour;
uniform float uOpacity;
void main() {
  vec3 t = normalize(vAlong);
  vec3 base = vHair.z > 1.75 ? vec3(.56, .47, .385) : uColour * vHair.z;
  float kt = dot(t, uKey), ht = dot(t, normalize(uKey + vView));
  float diffuse = sqrt(max(1. - kt * kt, 0.)), shine = pow(sqrt(max(1. - ht * ht, 0.)), 40.);
  vec3 c = base * (.42 + 1.05 * diffuse) + (.012 + .10 * base) * shine * .9;
  float a = vHair.w * uOpacity * (1. - .60 * vHair.y * vHair.y) * (1. - .35 * vHair.x * vHair.x) *
            smoothstep(0., .08, vHair.y + .04);
  oColour = vec4(film(c) * a, a);
}
