#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The rim of one spectacle lens, the bridge between both, a temple or a pad on the nose; and what
// they take from the light on the face.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
#include "frame.glsl"
uniform vec3 uRimColour;
uniform int uPart;    // 0 shadow of lens and rim, 1 rim, 2 bridge, 3 temple, 4 pad
uniform vec4 uOuter;  // towards the ear -1/+1, half width of the bridge, shine, size of the hinge
uniform vec3 uShift;  // of the shadow, and its softness

float pieceEdge(vec2 p) {  // where the temple is hinged
  vec2 at = p - vec2(uOuter.x * (uShape.x + uShape.w + 1.2), uShape.y * .56);
  return boxEdge(at, vec2(3.4, 2.3) * uOuter.w, 1.4);
}
float rimEdge(vec2 p) {
  float d = lensEdge(p), ring = abs(d - .5 * uShape.w) - .5 * uShape.w;
  return uOuter.w > 0. ? min(ring, pieceEdge(p)) : ring;
}
float bridgeEdge(vec2 p) {
  float arch = 1.9 - 3.0 * pow(abs(p.x / uOuter.y), 2.), up = abs(p.y - arch);
  return max(up - .5 * uShape.w - .2, abs(p.x) - uOuter.y - 1.6);
}
vec3 solid(float edge, float half_, vec2 slope, vec2 at) {  // rounded, lacquered plastic or metal
  vec3 face = cross(uAcross, uUpward);
  float t = clamp(1. + edge / half_, 0., 1.);  // 0 in its middle, 1 at its edge
  vec3 n = normalize(face + (uAcross * slope.x + uUpward * slope.y) * t * t * 1.3);
  vec3 v = normalize(uCam - vPos);
  vec3 light = sky(dot(n, uUp)) * 1.05 + max(dot(n, uKey), 0.) * KEY +
               max(dot(n, uFill), 0.) * FILL;
  float gloss = pow(max(dot(n, normalize(uKey + v)), 0.), 60.);
  float marble = sin(at.x * .55 + 2.1 * sin(at.y * .31)) * sin(at.y * .47 + 1.7 * sin(at.x * .23));
  vec3 c = uRimColour * (1. + .35 * marble * (1. - uOuter.z)) * light;
  c += gloss * mix(.22, .55, uOuter.z) + .03 * sky(dot(reflect(-v, n), uUp));
  return film(c);
}
// A pad of clear silicone, + x away from the nose, and the wire that holds it to the rim.
vec4 pad(vec2 p) {
  float d = (length(p / uShape.xy) - 1.) * uShape.x;
  vec2 from = vec2(.2, 1.2), to = vec2(6., 4.6), way = to - from;
  float along = clamp(dot(p - from, way) / dot(way, way), 0., 1.);
  float wire = length(p - from - along * way) - .5;
  float soft = smoothstep(.5 * uPixel, -.5 * uPixel, d);
  float metal = max(smoothstep(.5 * uPixel, -.5 * uPixel, wire) * (1. - .6 * soft),
                    .55 * smoothstep(.9, .5, length((p - vec2(0., .6)) / vec2(1.2, 2.2))));
  float edge = smoothstep(-1.3, -.1, d) * soft;
  vec3 clear = film(vec3(.60, .60, .57) * (sky(.3) + KEY * (.16 + .22 * edge)));
  float veil = soft * (.20 + .30 * edge);
  vec3 c = mix(clear * veil, film(vec3(.42, .40, .36)), metal);
  return vec4(c, mix(veil, 1., metal));
}
void main() {
  const float e = .05;
  if (uPart == 0) {
    vec2 p = vLocal + uShift.xy;
    float soft = uShift.z, d = lensEdge(p), ring = abs(d - .5 * uShape.w);
    float dark = .30 * smoothstep(soft + uShape.w, 0., ring) + .05 * smoothstep(soft, -soft, d);
    oColour = vec4(1. - dark * vec3(.86, 1., 1.03), 1.);
    return;
  }
  if (uPart == 4) {
    oColour = pad(vLocal);
    return;
  }
  if (uPart >= 2) {
    bool bridge = uPart == 2;
    float d = bridge ? bridgeEdge(vLocal) : boxEdge(vLocal - uShape.xy, uShape.xy, 1.5);
    float cover = smoothstep(.5 * uPixel, -.5 * uPixel, d);
    if (cover <= 0.) discard;
    // Rounded across its run: up and down, along the arch of a bridge.
    float lean = bridge ? 6.0 * vLocal.x / (uOuter.y * uOuter.y) : 0.;
    float middle = bridge ? 1.9 - .5 * lean * vLocal.x : uShape.y;
    vec2 slope = normalize(vec2(lean, 1.)) * sign(vLocal.y - middle);
    oColour = vec4(solid(d, bridge ? .5 * uShape.w : uShape.y, slope, vLocal) * cover, cover);
    return;
  }
  float rim = rimEdge(vLocal), framed = smoothstep(.5 * uPixel, -.5 * uPixel, rim);
  if (framed <= 0.) discard;
  vec2 slope = vec2(rimEdge(vLocal + vec2(e, 0.)), rimEdge(vLocal + vec2(0., e))) - rim;
  oColour = vec4(solid(rim, .5 * uShape.w, slope / e, vLocal) * framed, framed);
}
