#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The eyeball by ray and sphere, in mm, under the cached layer of the face.
in vec3 vPos;
out vec4 oColour;
#include "light.glsl"
uniform sampler2D uLayer, uIris, uSclera, uLids;
uniform vec3 uCentre;   // centre of rotation, head
uniform mat3 uEye;      // eye to head
uniform vec3 uPen;      // penlight, head
uniform float uPenOn;
uniform vec4 uLidSpan;  // n of the first texel, 1/span, side (+1 left eye), n of the inner canthus
uniform vec4 uLook;     // redness, yellowing, pupil radius, iris radius
uniform vec4 uPlace;    // inner canthus's y, melanin, mm a pixel, pupil's x in straight gaze
uniform vec2 uLod;      // of iris and sclera
uniform float uArcus;
const float R_SCLERA = 12.2, R_CORNEA = 7.8, Z_CORNEA = 5.7, N_AQUEOUS = 1.336;
// Iris 3.6 mm behind the apex; seen through the cornea the pupil is 1.13 times its size.
const float Z_IRIS = 9.9, PUPIL_SEEN = 1.13;

// Closest-approach form: keeps its precision when the examiner is far away.
bool sphere(vec3 ro, vec3 rd, vec3 c, float r, out float t) {
  vec3 q = ro - c;
  float m = -dot(q, rd);
  vec3 p = q + rd * m;
  float d = r * r - dot(p, p);
  t = m - sqrt(max(d, 0.));
  return d > 0.;
}
// What the tear film mirrors: a dim room, its large lamp, dark below, lashes above. Kept faint over
// the pupil, where it would read as a pupil out of shape.
vec3 room(vec3 d) {
  float window = smoothstep(.90, .99, dot(d, uKey)), fill = smoothstep(.90, .99, dot(d, uFill));
  return sky(dot(d, uUp)) * .35 * smoothstep(.75, .10, d.y) + window * vec3(.50, .48, .45) +
         fill * vec3(.10, .11, .125);
}
// `turned`: 0..1 where the globe curves out of sight and its skin goes over to the lids.
vec3 whiteOfEye(vec3 ps, vec3 n, float cn, float turned) {
  float limb = uLook.w, ecc = acos(clamp(normalize(ps).z, -1., 1.));
  vec2 dir = normalize(ps.xy + 1e-5);
  vec3 ves = textureLod(uSclera, .5 + dir * ecc / 2.9322, uLod.y).rgb;
  ves = mix(ves, vec3(0., .1, .5), turned);
  float back = smoothstep(.62, 1.25, ecc);
  vec3 c = mix(vec3(.615, .578, .540), vec3(.56, .43, .37), back * .9) *
           mix(vec3(1.), vec3(.98, .90, .70), uLook.y * (.4 + .6 * back));
  // Flesh in the outer corner.
  c = mix(c, vec3(.58, .37, .31), max(smoothstep(9.4, 14., -cn), .65 * turned));
  c *= .90 + .16 * ves.b;
  c = mix(c, c * vec3(.82, .36, .30), clamp(ves.r * 1.4, 0., .85));
  c = mix(c, c * vec3(.78, .66, .72), ves.g * .55);
  c = mix(c, c * vec3(1., .80, .75), uLook.x * (.12 + .5 * back));
  // Grey-blue where the cornea's edge runs over into it.
  c *= mix(vec3(1.), vec3(.62, .60, .60), smoothstep(limb + 1.5, limb - .3, length(ps.xy)));
  vec3 wrap = vec3(.40, .32, .27);
  vec3 key = clamp((dot(n, uKey) + wrap) / (1. + wrap), 0., 1.) * KEY * .84;
  return c * (sky(dot(n, uUp)) * .85 + key + max(dot(n, uFill), 0.) * FILL);
}
vec3 irisBehind(vec3 pc, vec3 ed, vec3 light, out float cover) {
  float limb = uLook.w;
  vec3 nc = (pc - vec3(0., 0., Z_CORNEA)) / R_CORNEA, rf = refract(ed, nc, 1. / N_AQUEOUS);
  vec2 ip = (pc + rf * ((Z_IRIS - pc.z) / min(rf.z, -.05))).xy;
  float ri = length(ip), pr = uLook.z / PUPIL_SEEN, edge = limb - .22;
  float rel = (ri - pr) / (edge - pr);
  vec2 at = vec2(atan(ip.y, ip.x) / 6.2831853, clamp(rel, .002, .998));
  vec4 map = textureLod(uIris, at, uLod.x);
  vec3 c = map.rgb * map.rgb;
  vec3 keyE = transpose(uEye) * uKey;
  // The cornea is a lens: it throws the lamp's light to the far side.
  float far = dot(ip / limb, -normalize(keyE.xy + 1e-4));
  c *= .58 + .62 * smoothstep(-1., 1., far) * smoothstep(.0, .5, keyE.z) + .35 * (map.a - .5);
  c *= .70 + .30 * smoothstep(edge, edge - 1.5, ri);  // shadow of the limbus
  float soft = max(uPlace.z * .75, .05);
  c *= smoothstep(-soft, soft, ri - pr);
  cover = smoothstep(edge + .30, edge - .55, ri);
  return (c + .0012) * (light * .55 + vec3(.55));
}
void main() {
  vec4 layer = texelFetch(uLayer, ivec2(gl_FragCoord.xy), 0);
  if (layer.a > .998) {
    oColour = vec4(layer.rgb, 1.);
    return;
  }
  vec3 rd = normalize(vPos - uCam), ro = uCam - uCentre;
  vec3 er = transpose(uEye) * ro, ed = transpose(uEye) * rd;
  float ts, tc;
  bool hs = sphere(er, ed, vec3(0.), R_SCLERA, ts);
  bool hc = sphere(er, ed, vec3(0., 0., Z_CORNEA), R_CORNEA, tc);
  vec3 ps = er + ed * ts, pc = er + ed * tc;
  float limb = uLook.w;
  // The two spheres run into each other over the limbal furrow.
  float k = hc && pc.z > 0. ? smoothstep(limb + .48, limb - .34, length(pc.xy)) : 0.;
  vec3 p = mix(ps, pc, k);
  vec3 ne = normalize(mix(normalize(ps), (pc - vec3(0., 0., Z_CORNEA)) / R_CORNEA, k));
  vec3 n = uEye * ne, hp = uEye * p;
  float turned = smoothstep(.84, 1., length(cross(er, ed)) / R_SCLERA) * (1. - k);
  n = normalize(n - rd * turned * .9);

  // Where this is between the lids.
  vec2 q = hp.xy + vec2(uCentre.x - uPlace.w, 0.);
  float cn = -uLidSpan.z * q.x;  // towards the nose
  vec4 lid = textureLod(uLids, vec2((cn - uLidSpan.x) * uLidSpan.y, .5), 0.);
  float dTop = lid.x - q.y, dLow = q.y - lid.y;

  vec3 wrap = vec3(.36, .28, .23);
  vec3 light = sky(dot(n, uUp)) * .85 +
               clamp((dot(n, uKey) + wrap) / (1. + wrap), 0., 1.) * KEY * .86 +
               max(dot(n, uFill), 0.) * FILL;
  float cover;
  vec3 iris = irisBehind(pc, ed, light, cover);
  // Arcus: in the cornea, a clear strip of 0.3 mm inside the limbus, whatever the pupil does; densest
  // above and below.
  float rc = length(pc.xy);
  float arcus = uArcus * smoothstep(limb - 1.9, limb - 1.0, rc) * smoothstep(limb - .26, limb - .6, rc);
  iris = mix(iris, vec3(.50, .50, .47) * light, arcus * (.50 + .34 * abs(pc.y) / max(rc, 1.)));
  vec3 c = mix(whiteOfEye(ps, n, cn, turned), iris, k * cover);

  // Shade of the lids and lashes.
  float corner = mix(.45, 1., smoothstep(-13.6, -9.4, cn));  // little room for it in the outer one
  float top = 1. - corner * (.52 * exp(-max(dTop, 0.) / .8) + .36 * exp(-max(dTop - .1, 0.) / 3.));
  float low = 1. - .26 * exp(-max(dLow, 0.) / .9);
  float ends = mix(.74, 1., smoothstep(14.2, 7.0, abs(cn - .2)));
  c *= pow(vec3(top * low * ends), vec3(.82, 1., 1.05));

  // Plica and caruncle, on the nose side only.
  float g = uLidSpan.w - cn, cy = q.y - uPlace.x;
  vec2 cc = vec2((g - 1.9) / 1.9, (cy - .1) / 1.45);
  float car = smoothstep(1.15, .55, length(cc)), pl = smoothstep(6.3, 3.9, g + .25 * abs(cy));
  if (pl > 0.) {
    vec3 pink = mix(vec3(.72, .37, .31), vec3(.58, .29, .23), uPlace.y);
    vec2 lump = vec2(sin(cc.x * 6. + cc.y * 4.1), sin(cc.y * 7.3 - cc.x * 3.7));
    vec2 slope = cc * .9 + .16 * lump;
    vec3 nl = mix(n, normalize(vec3(uLidSpan.z * slope.x, slope.y, 1.)), car);
    float fold = smoothstep(.0, .7, abs(g - 4.6 + .12 * cy));
    vec3 lc = sky(dot(nl, uUp)) * .75 + clamp((dot(nl, uKey) + .3) / 1.3, 0., 1.) * KEY * .7;
    vec3 col = mix(pink * vec3(1.06, .94, .90), pink * vec3(1.06, 1.02, .98), car);
    col *= lc * mix(.74, 1., fold) * mix(.84, 1.05, car) * mix(1., top, .35);
    c = mix(c, col, pl * .90);
    float wet = dot(nl, normalize(uKey - rd));
    c += pl * (.08 * smoothstep(.93, 1., wet) + .28 * smoothstep(.985, 1., wet));
    n = normalize(mix(n, nl, pl));
  }
  // Tears: the meniscus along the lower lid, then the mirror of the room and of the penlight.
  float men = smoothstep(.42, .10, dLow) * smoothstep(-.25, .02, dLow) * (1. - .6 * pl);
  vec3 nm = normalize(n + vec3(0., .75, 0.) * men + vec3(0., -.55, 0.) * smoothstep(.30, 0., dTop));
  vec3 r = reflect(rd, nm);
  float fr = .022 + .978 * pow(1. - max(dot(-rd, nm), 0.), 5.), seen = smoothstep(0., 1.6, dTop);
  c += fr * room(r) * seen * mix(.75, 1.25, k);
  // A window in the cornea: two faint panes, high and to the side, clear of an ordinary pupil.
  vec3 window = normalize(vec3(-.60, .53, .60)), side = normalize(cross(window, uUp));
  vec2 pane = vec2(dot(r, side), dot(r, cross(side, window))) / vec2(.26, .32);
  float lit = smoothstep(1.15, .85, abs(pane.x)) * smoothstep(1.15, .85, abs(pane.y)) *
              smoothstep(.02, .10, abs(pane.x)) * step(0., dot(r, window));
  c += lit * k * seen * vec3(.080, .084, .090);
  float bead = smoothstep(.86, 1., dot(normalize(r), normalize(uKey + vec3(0., .25, .3))));
  c += men * (.08 + .34 * bead) * vec3(1., .97, .94);
  vec3 toPen = normalize(uPen - (uCentre + hp));
  float ang = acos(clamp(dot(reflect(rd, n), toPen), -1., 1.)), px = uPlace.z / R_CORNEA * 2.2;
  float glint = smoothstep(.034 + px, .034 - px, ang) + .05 * exp(-ang * ang * 220.);
  c += uPenOn * seen * glint * mix(.05, 1., k) * vec3(1.5, 1.48, 1.42) / uExposure;
  c = mix(c * mix(vec3(.8, .66, .62), vec3(.5, .28, .25), corner), c, smoothstep(-.1, .35, dTop));
  oColour = vec4(layer.rgb + (1. - layer.a) * film(c), 1.);
}
