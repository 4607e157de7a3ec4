#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
layout(location = 0) in vec3 aPos;
layout(location = 1) in vec3 aNormal;
layout(location = 2) in vec3 aSoft;
layout(location = 3) in vec2 aRest;
layout(location = 4) in vec2 aWetCavity;
layout(location = 5) in vec2 aCreases;
uniform mat4 uToClip;
out vec3 vPos, vNormal, vSoft;
out vec2 vRest, vWetCavity, vCreases;
void main() {
  vPos = aPos;
  vNormal = aNormal;
  vSoft = aSoft;
  vRest = aRest;
  vWetCavity = aWetCavity;
  vCreases = aCreases;
  gl_Position = uToClip * vec4(aPos, 1.);
}
