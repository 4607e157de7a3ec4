#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
#include "plate.glsl"
#include "blade.glsl"
uniform sampler2D uBehind;  // the picture, made small
uniform vec2 uPixels;
uniform float uPixel;
uniform int uKind;  // 0 opaque, 1 frosted, 2 only hinted at
uniform vec2 uDrawn;  // half of a rectangle round the blade that is drawn by itself
const float BEVEL = 1.9;

// The examiner sees the eye dimly but well enough to tell where it points: from outside, the frost
// is close to the face and scatters over less than a millimetre. (The patient, for whom it is close
// to the eye, sees a blur: that is the engine's.)
vec3 frosted(vec2 uv) {
  vec2 s = .7 / vec2(textureSize(uBehind, 0));
  return .25 * (texture(uBehind, uv + s).rgb + texture(uBehind, uv - s).rgb +
                texture(uBehind, uv + s * vec2(1., -1.)).rgb +
                texture(uBehind, uv + s * vec2(-1., 1.)).rgb);
}
void main() {
  vec3 v = normalize(uCam - vPos), face = cross(uAcross, uUpward);
  // The ray goes on to the back of the plate: where it leaves the front it may still meet the side.
  vec3 local = vec3(dot(v, uAcross), dot(v, uUpward), dot(v, face));
  vec2 back = vLocal - local.xy / local.z * uPlate.w;
  float front = plateEdge(vLocal);
  float edge = min(front, plateEdge(back));
  float cover = smoothstep(.5 * uPixel, -.5 * uPixel, edge);
  if (cover <= 0. || all(lessThan(abs(turned(vLocal, uTurn.xy)), uDrawn))) discard;
  const float e = .05;
  vec2 slope = (vec2(plateEdge(vLocal + vec2(e, 0.)), plateEdge(vLocal + vec2(0., e))) - front) / e;
  float bevel = smoothstep(-BEVEL, -.1, front);
  float onFront = smoothstep(.3 * uPixel, -.3 * uPixel, front);
  vec3 n = normalize(uAcross * slope.x * bevel * .8 + uUpward * slope.y * bevel * .8 + face);
  n = mix(normalize(uAcross * slope.x + uUpward * slope.y + face * .15), n, onFront);
  float key = max(dot(n, uKey), 0.), fill = max(dot(n, uFill), 0.);
  vec3 light = sky(dot(n, uUp)) * 1.1 + key * KEY + fill * FILL;
  float shine = pow(max(dot(n, normalize(uKey + v)), 0.), 26.);
  float ring = smoothstep(-2.6, -2.2, front);  // a softer rubber rim round the blade
  if (uKind == 1) {
    vec3 seen = frosted(gl_FragCoord.xy / uPixels);
    vec3 c = film(mix(vec3(.62, .64, .65), vec3(.78, .80, .82), ring) * light * .50 + shine * .06);
    seen *= .80;
    float milk = mix(.27, .86, max(ring, 1. - onFront));
    milk = mix(milk, .92, smoothstep(.6, -.6, handleEdge(vLocal)));
    oColour = vec4(mix(seen, c, milk) * cover, cover);
    return;
  }
  vec3 base = mix(BLADE, vec3(.066, .076, .088), max(ring, 1. - onFront));
  vec3 c = film(base * light + shine * .030 * ring + satin(vLocal) * (1. - ring));
  if (uKind == 2) {
    float a = cover * mix(.16, .75, max(ring, 1. - onFront));
    oColour = vec4(c * a, a);
    return;
  }
  oColour = vec4(c * cover, cover);
}
