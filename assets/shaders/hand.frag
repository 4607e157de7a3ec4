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
// The higher of two rounded shapes, with a seam of width k; and how near the seam is.
float join(float a, float b, float k, inout float seam) {
  float h = max(k - abs(a - b), 0.) / k;
  seam = max(seam, min(a, b) > -2. ? smoothstep(2.6, .3, abs(a - b)) : 0.);
  return max(a, b) + h * h * k * .25;
}
// One finger: middle part behind the handle, the end curled round it.
float finger(vec2 p, float y, float r, float reach) {
  float unused = 0.;
  float h = capsule(p, vec2(25., y - 2.), vec2(2., y + 2.), r + .9, r + .5);
  return join(h, capsule(p, vec2(2., y + 2.), vec2(-reach, y + .5), r + .3, r - 1.), 4., unused);
}
float height(vec2 p, out float seam) {
  p.y += uPlate.y;
  seam = 0.;
  float unused = 0.;
  if (uThumb > .5) {
    float h = capsule(p, vec2(31., -86.), vec2(19., -58.), 16., 11.5);
    h = join(h, capsule(p, vec2(19., -58.), vec2(9.5, -40.), 10.6, 9.6), 5., unused);
    return join(h, capsule(p, vec2(9.5, -40.), vec2(2.5, -28.5), 9.7, 7.6), 5., unused);
  }
  float h = finger(p, -38., 8.3, 9.5);
  h = join(h, finger(p, -54.5, 8.8, 12.), .8, seam);
  h = join(h, finger(p, -71.5, 8.5, 11.), .8, seam);
  h = join(h, finger(p, -87., 7.4, 7.5), .8, seam);
  float back = capsule(p, vec2(31., -50.), vec2(30., -102.), 15., 19.);
  return join(h, back, 7., unused);
}
float grain(vec2 p) {  // fine lines of the skin, across each other
  return sin(p.x * 3.1 + 1.9 * sin(p.y * 1.3)) * sin(p.y * 3.7 + 1.6 * sin(p.x * 1.1));
}
void main() {
  const float e = .25;
  float seam, other;
  float h = height(vLocal, seam);
  float cover = smoothstep(-1.2, 1.2, h / max(uPixel * 6., .6));
  if (cover <= 0.) discard;
  vec2 g = vec2(height(vLocal + vec2(e, 0.), other) - height(vLocal - vec2(e, 0.), other),
                height(vLocal + vec2(0., e), other) - height(vLocal - vec2(0., e), other)) /
           (2. * e);
  vec2 q = vLocal + vec2(0., uPlate.y);
  float fine = grain(q) * smoothstep(.35, .12, uPixel);
  // Creases over the joints: short lines across a finger, three beside each other.
  vec2 joint = uThumb > .5 ? vec2(9.5, -40.) : vec2(2., q.y);
  vec2 along = uThumb > .5 ? vec2(-.50, .866) : vec2(-1., 0.);
  float at = dot(q - joint, along), side = abs(dot(q - joint, vec2(along.y, -along.x)));
  float crease = exp(-at * at / 5.) * (.5 + .5 * cos(at * 3.4)) *
                 (uThumb > .5 ? smoothstep(7., 3., side) : .9 * smoothstep(2., 7., h));
  vec3 n = normalize(vec3(-clamp(g, -6., 6.) + vec2(fine * .022), 1.)), v = normalize(uCam - vPos);
  vec3 w = vec3(.30, .16, .12);
  vec3 skin = vec3(.47, .285, .20) * (1. + .02 * fine);
  skin = mix(skin, skin * vec3(1., .84, .78), smoothstep(5., 0., h));  // red towards its outline
  // Blood in patches and over the joints.
  float patch_ = sin(q.x * .31 + 1.7 * sin(q.y * .23)) * sin(q.y * .37 + 1.3 * sin(q.x * .19));
  float knuckle = uThumb > .5 ? 0. : exp(-dot(q - vec2(29., q.y), q - vec2(29., q.y)) / 40.) *
                                       smoothstep(4., 11., h);
  skin *= mix(vec3(1.), vec3(1.02, .90, .86), .35 + .35 * patch_ + .8 * knuckle);
  skin *= mix(vec3(1.), vec3(.66, .50, .44), crease * .60);
  float shade = 1. - .62 * seam;  // little light gets between two fingers
  if (uThumb < .5) {                // and the thumb keeps the lamp's from those behind it
    vec2 s = q + vec2(-3., 4.);
    float over = max(capsule(s, vec2(19., -58.), vec2(9.5, -40.), 10.6, 9.6),
                     capsule(s, vec2(31., -86.), vec2(19., -58.), 16., 11.5));
    shade *= 1. - .45 * smoothstep(-5., 4., over);
  }
  float shine = .045;
  if (uThumb > .5) {  // nail: flatter, paler, with a moon and a free edge
    vec2 t = q - vec2(4.2, -31.0);
    t = vec2(t.x * .866 + t.y * .5, -t.x * .5 + t.y * .866);
    vec2 u = t / vec2(4.9, 6.2);
    float nail = smoothstep(1.06, .94, pow(pow(abs(u.x), 3.) + pow(abs(u.y), 3.), 1. / 3.));
    float rim = smoothstep(.82, 1., pow(pow(abs(u.x), 3.) + pow(abs(u.y), 3.), 1. / 3.));
    vec3 plate = mix(vec3(.56, .34, .275), vec3(.62, .47, .41), smoothstep(-.55, -.85, u.y));
    plate = mix(plate, vec3(.66, .58, .51), smoothstep(.74, .90, u.y));
    skin = mix(skin, plate * (1. - .22 * rim), nail * .85);
    n = normalize(mix(n, normalize(vec3(u.x * .45, .12 + .1 * u.y, 1.)), nail * .75));
    shine += .12 * nail;
  }
  vec3 light = sky(dot(n, uUp)) * .95 + clamp((dot(n, uKey) + w) / (1. + w), 0., 1.) * KEY * .9 +
               max(dot(n, uFill), 0.) * FILL;
  float half_ = max(dot(n, normalize(uKey + v)), 0.);
  vec3 c = skin * light * mix(vec3(shade * .72, shade * .60, shade * .56), vec3(1.), shade);
  c += pow(half_, 22.) * shine * (1. + .5 * fine) * shade;
  oColour = vec4(film(c) * cover, cover);
}
