#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
layout(location = 0) in vec3 aPos;
layout(location = 1) in vec3 aAlong;
layout(location = 2) in vec4 aHair;  // side -1/+1, half width mm, 0 root .. 1 tip, tint
uniform mat4 uToClip;
uniform vec3 uCam;
uniform float uPixel;  // mm
out vec3 vAlong, vView;
out vec4 vHair;  // side, t, tint, cover
void main() {
  vec3 view = normalize(uCam - aPos), across = normalize(cross(aAlong, view) + 1e-6);
  float halfWidth = max(aHair.y, .55 * uPixel);  // never thinner than a pixel: fade instead
  vHair = vec4(aHair.x, aHair.z, aHair.w, aHair.y / halfWidth);
  vAlong = aAlong;
  vView = view;
  gl_Position = uToClip * vec4(aPos + across * halfWidth * aHair.x, 1.);
}
