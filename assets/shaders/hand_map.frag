#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// A hand round the handle, as rounded heights of a few capsules: fingers behind, thumb in front on
// the blade's lower end. Drawn once into two maps, mm of the hand across and up: its skin (square
// roots of reflectance) with how much of a texel it covers, and its shape (slope across and up, light that gets there, shine).
layout(location = 0) out vec4 oSkin;
layout(location = 1) out vec4 oShape;
uniform vec4 uQuad;      // x0 y0 x1 y1, mm
uniform float uTexel, uThumb;  // mm; 1: the thumb, 0: what is behind the handle

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
const vec2 THUMB_ROOT = vec2(18., -92.), THUMB_MIDDLE = vec2(13., -62.),
           THUMB_JOINT = vec2(8., -42.), THUMB_END = vec2(2.5, -28.5);
// One finger: middle part behind the handle, the end curled round it.
float finger(vec2 p, float y, float r, float reach) {
  float unused = 0.;
  float h = capsule(p, vec2(13., y - 2.), vec2(-10., y + 2.), r + .9, r + .5);
  return join(h, capsule(p, vec2(-10., y + 2.), vec2(-reach, y + .5), r + .3, r - 1.), 4., unused);
}
float height(vec2 p, out float seam) {
  seam = 0.;
  float unused = 0.;
  if (uThumb > .5) {
    float h = capsule(p, THUMB_ROOT, THUMB_MIDDLE, 16., 11.5);
    h = join(h, capsule(p, THUMB_MIDDLE, THUMB_JOINT, 10.6, 9.6), 5., unused);
    return join(h, capsule(p, THUMB_JOINT, THUMB_END, 9.7, 7.6), 5., unused);
  }
  float h = finger(p, -38., 8.3, 21.);
  h = join(h, finger(p, -54.5, 8.8, 23.), .8, seam);
  h = join(h, finger(p, -71.5, 8.5, 22.), .8, seam);
  h = join(h, finger(p, -87., 7.4, 20.), .8, seam);
  seam *= smoothstep(10., 2., p.x);  // beyond the knuckles the fingers are one hand
  float palm = capsule(p, vec2(-11., -45.), vec2(-11., -88.), 17., 17.) - 10.3;
  h = max(h, palm);  // what is seen between the fingers' ends
  float back = capsule(p, vec2(18., -50.), vec2(17., -94.), 12.5, 15.);
  back = join(back, capsule(p, vec2(-12., -86.), vec2(-4., -102.), 16., 18.), 10., unused);
  back = join(back, capsule(p, vec2(8., -98.), vec2(2., -145.), 19., 18.5), 14., unused);
  back = join(back, capsule(p, vec2(2., -145.), vec2(1., -230.), 18.5, 20.), 14., unused);
  return join(h, back, 7., unused);
}
float grain(vec2 p) {  // fine lines of the skin, across each other
  return sin(p.x * 3.1 + 1.9 * sin(p.y * 1.3)) * sin(p.y * 3.7 + 1.6 * sin(p.x * 1.1));
}
// How far beyond the cuff of a sleeve.
float sleeve(vec2 p) { return -150. + .2 * (p.x - 4.) - p.y; }

void main() {
  vec2 q = uQuad.xy + gl_FragCoord.xy * uTexel;
  const float e = .25;
  float seam, other;
  float h = height(q, seam);
  float cover = smoothstep(-1.6, 1.6, h);
  if (uThumb > .5) cover *= smoothstep(-108., -88., q.y);  // its ball is one with the hand
  vec2 g = vec2(height(q + vec2(e, 0.), other) - height(q - vec2(e, 0.), other),
                height(q + vec2(0., e), other) - height(q - vec2(0., e), other)) /
           (2. * e);
  float fine = grain(q);
  // Creases over the joints: short lines across a finger, three beside each other.
  vec2 joint = uThumb > .5 ? THUMB_JOINT : vec2(-10., q.y);
  vec2 along = uThumb > .5 ? normalize(THUMB_END - THUMB_JOINT) : vec2(-1., 0.);
  float at = dot(q - joint, along), side = abs(dot(q - joint, vec2(along.y, -along.x)));
  float crease = exp(-at * at / 5.) * (.5 + .5 * cos(at * 3.4)) *
                 (uThumb > .5 ? smoothstep(7., 3., side) : .9 * smoothstep(2., 7., h));
  vec3 skin = vec3(.47, .285, .20) * (1. + .02 * fine);
  skin = mix(skin, skin * vec3(1., .84, .78), smoothstep(5., 0., h));  // red towards its outline
  // Blood in patches and over the joints.
  float patch_ = sin(q.x * .31 + 1.7 * sin(q.y * .23)) * sin(q.y * .37 + 1.3 * sin(q.x * .19));
  float knuckle = uThumb > .5 ? 0. : exp(-dot(q - vec2(17., q.y), q - vec2(17., q.y)) / 40.) *
                                       smoothstep(4., 11., h);
  skin *= mix(vec3(1.), vec3(1.02, .90, .86), .35 + .35 * patch_ + .8 * knuckle);
  skin *= mix(vec3(1.), vec3(.66, .50, .44), crease * .60);
  float shade = 1. - .62 * seam;  // little light gets between two fingers
  float shine = .045;
  float bumps = .022;
  if (uThumb < .5) {
    // The thumb keeps the lamp's light from those behind it, and so does the blade.
    vec2 s = q + vec2(-3., 4.);
    float over = max(capsule(s, THUMB_MIDDLE, THUMB_JOINT, 10.6, 9.6),
                     capsule(s, THUMB_ROOT, THUMB_MIDDLE, 16., 11.5));
    shade *= 1. - .45 * smoothstep(-5., 4., over);
    float cuff = smoothstep(0., .3, sleeve(q));
    float weave = sin(q.x * 8.) * sin(q.y * 8.);
    skin = mix(skin, vec3(.33, .37, .42) * (1. + .06 * weave), cuff);
    shine *= 1. - cuff;
    bumps *= 1. - cuff;
    shade *= 1. - .45 * exp(-sleeve(q) * sleeve(q) / 3.);  // the cuff's edge
  } else {  // nail: flatter, paler, with a moon and a free edge
    vec2 t = q - vec2(3.6, -31.0);
    t = vec2(t.x * along.y - t.y * along.x, t.x * along.x + t.y * along.y);
    vec2 u = t / vec2(4.9, 6.2);
    float round_ = pow(pow(abs(u.x), 3.) + pow(abs(u.y), 3.), 1. / 3.);
    float nail = smoothstep(1.06, .94, round_), rim = smoothstep(.82, 1., round_);
    vec3 plate = mix(vec3(.56, .34, .275), vec3(.62, .47, .41), smoothstep(-.55, -.85, u.y));
    plate = mix(plate, vec3(.66, .58, .51), smoothstep(.74, .90, u.y));
    skin = mix(skin, plate * (1. - .22 * rim), nail * .85);
    bumps *= 1. - nail;
    vec2 flat_ = -vec2(u.x * .45, .12 + .1 * u.y);
    g = mix(g, flat_, nail * .75);
    shine += .12 * nail;
  }
  vec2 slope = normalize(vec3(-clamp(g, -6., 6.) + fine * bumps, 1.)).xy;
  oSkin = vec4(sqrt(skin), cover);
  oShape = vec4(.5 + .5 * slope, shade, shine * 4.);
}
