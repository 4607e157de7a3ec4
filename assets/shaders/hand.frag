#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// A hand round the handle, as rounded heights of a few capsules: fingers behind, thumb in front.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
uniform vec4 uPlate;
uniform float uPixel, uThumb;
float capsule(vec2 p, vec2 a, vec2 b, float ra, float rb) {  // height over the plane, < 0 outside
  vec2 d = b - a;
  float t = clamp(dot(p - a, d) / dot(d, d), 0., 1.), r = mix(ra, rb, t);
  float q = r * r - dot(p - a - t * d, p - a - t * d);
  return q > 0. ? sqrt(q) : -sqrt(-q);
}
float smax(float a, float b) {
  float h = max(3. - abs(a - b), 0.) / 3.;
  return max(a, b) + h * h * .75;
}
float height(vec2 p) {
  p.y += uPlate.y;
  if (uThumb > .5) {
    float h = capsule(p, vec2(27., -74.), vec2(17., -50.), 14., 10.5);
    return smax(h, capsule(p, vec2(17., -50.), vec2(2., -29.), 10., 8.2));
  }
  float h = capsule(p, vec2(26., -42.), vec2(-11., -36.), 10., 8.4);
  h = smax(h, capsule(p, vec2(28., -58.), vec2(-13., -53.), 10.5, 8.8) - .8);
  h = smax(h, capsule(p, vec2(28., -75.), vec2(-12., -70.), 10.5, 8.6) - .8);
  h = smax(h, capsule(p, vec2(26., -91.), vec2(-9., -86.), 9.5, 7.8) - .8);
  h = smax(h, capsule(p, vec2(28., -52.), vec2(26., -100.), 17., 19.));
  return h;
}
void main() {
  const float e = .25;
  float h = height(vLocal);
  float cover = smoothstep(-1.2, 1.2, h / max(uPixel * 6., .6));
  if (cover <= 0.) discard;
  vec2 g = vec2(height(vLocal + vec2(e, 0.)) - height(vLocal - vec2(e, 0.)),
                height(vLocal + vec2(0., e)) - height(vLocal - vec2(0., e))) / (2. * e);
  vec3 n = normalize(vec3(-clamp(g, -6., 6.), 1.)), v = normalize(uCam - vPos);
  vec3 w = vec3(.30, .16, .12);
  vec3 light = sky(dot(n, uUp)) * .95 + clamp((dot(n, uKey) + w) / (1. + w), 0., 1.) * KEY * .9 +
               max(dot(n, uFill), 0.) * FILL;
  vec3 skin = vec3(.50, .315, .225);
  skin = mix(skin, skin * vec3(.82, .62, .55), smoothstep(4., -1., h));  // red in the clefts
  if (uThumb > .5) {  // nail
    vec2 q = vLocal + vec2(0., uPlate.y) - vec2(3.2, -30.2);
    q = vec2(q.x * .81 + q.y * .58, q.y * .81 - q.x * .58);
    float nail = smoothstep(1.12, .95, length(q * vec2(1. / 4.4, 1. / 5.4)));
    skin = mix(skin, vec3(.58, .375, .30), nail * .75);
    n = normalize(mix(n, vec3(0., .15, 1.), nail * .4));
  }
  vec3 c = skin * light + pow(max(dot(n, normalize(uKey + v)), 0.), 18.) * .05;
  oColour = vec4(film(c) * cover, cover);
}
