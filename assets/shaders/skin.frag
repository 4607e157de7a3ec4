#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// Skin: colour by absorption (melanin, blood, yellow), red light from a blurred normal because it
// travels further under the surface, two lobes of shine.
in vec3 vPos, vNormal, vSoft;
in vec2 vRest, vWetCavity, vCreases;
out vec4 oColour;
#include "light.glsl"
uniform sampler2D uDetail, uPigment, uLight;
uniform vec4 uMapBox;    // origin and 1/size of the maps of the skin
uniform vec4 uSkin;      // melanin, blood, yellow, shine
uniform vec3 uMicro;     // pore depth, coarse pores, distance of an eye from the midline
uniform vec3 uHairTint;  // what hair roots leave of the skin's colour
uniform vec2 uLod;       // level of both layers of detail, known beforehand
vec3 bleed(float s) {    // red reaches further into a shadow
  return vec3(mix(s, sqrt(s), .18), s, s * mix(1., s, .10));
}
float pow5(float x) {
  float y = x * x;
  return y * y * x;
}
void main() {
  vec2 uv = (vRest - uMapBox.xy) * uMapBox.zw;
  vec4 pig = textureLod(uPigment, uv, 0.), lit = textureLod(uLight, uv, 0.);
  vec2 turned = vec2(.8 * vRest.x - .6 * vRest.y, .6 * vRest.x + .8 * vRest.y) / 41. + .37;
  vec4 d1 = textureLod(uDetail, vRest / 16., uLod.x), d2 = textureLod(uDetail, turned, uLod.y);
  float wet = vWetCavity.x, cav = vWetCavity.y;
  vec2 g = (d1.rg - .5) * uMicro.x * .50 + (d2.rg - .5) * uMicro.y * (.25 + .75 * lit.a) +
           (pig.ba - .5) * 4.;
  float lid = smoothstep(9., 19., length(vec2(abs(vRest.x) - uMicro.z, vRest.y)));
  g *= (1. - wet) * mix(.55, 1., lid);  // the skin of the lids is finer
  float line = sin(vCreases.x);  // narrow furrows between wider ridges
  g.y += vCreases.y * line * (.45 + .55 * cos(vCreases.x));
  vec3 soft = normalize(vSoft);
  vec3 n = normalize(mix(normalize(vNormal), soft, wet * .7));
  vec3 nb = normalize(n - vec3(g, 0.)), ns = normalize(mix(soft, n, .25) - vec3(g * .22, 0.));
  vec3 v = normalize(uCam - vPos);

  // Colour.
  float mel = max(uSkin.x * (.55 + .9 * pig.r) + (pig.r - .5) * .62 + (d1.a - .5) * .05, 0.);
  float blood = max(uSkin.y * .75 + (pig.g - .4) * mix(1.5, .9, uSkin.x) + (d2.a - .5) * .25, 0.);
  mel *= 1. - .22 * wet;
  blood += .24 * wet + .08 * clamp(cav * 1.2, 0., 1.) * (1. - wet);
  vec3 albedo = exp(-(vec3(.22, .475, .745) + mel * vec3(1.75, 2.40, 2.95) +
                      blood * vec3(.10, .52, .44) + uSkin.z * vec3(.02, .05, .34)));
  albedo = mix(albedo, mix(vec3(.50, .285, .252), vec3(.26, .145, .125), uSkin.x), wet * .72);
  albedo *= mix(vec3(1.), uHairTint, lit.b);
  albedo *= .93 + .14 * mix(d1.b, d2.b, .35);

  // Light.
  float fold = 1. / (1. + max(cav, 0.) * 1.6);
  vec3 ao = bleed(lit.r * fold), sh = bleed(lit.g * mix(1., fold, .6));
  float kh = dot(nb, uKey), ks = dot(ns, uKey), fh = dot(nb, uFill), fs = dot(ns, uFill);
  vec3 w = vec3(.24, .11, .08) * (1. - .85 * wet), share = vec3(.90, .52, .38);
  vec3 key = clamp((mix(vec3(kh), vec3(ks), share) + w) / (1. + w), 0., 1.) * sh;
  vec3 fill = clamp((mix(vec3(fh), vec3(fs), share) + w) / (1. + w), 0., 1.);
  fill *= mix(vec3(1.), ao, .7);
  vec3 c = albedo * (sky(dot(ns, uUp)) * ao * 1.05 + key * KEY + fill * FILL);
  c += albedo * albedo * vec3(.10, .03, .02) * (1. - ao.g);  // light returned inside hollows
  c += albedo * albedo * vec3(.13, .045, .028) * (1. - sh.g);  // and through the skin in shadow

  // Shine.
  float oil = uSkin.w * (.55 + lit.a) * (1. - .75 * lit.b);
  vec3 h = normalize(uKey + v), hf = normalize(uFill + v);
  float nv = max(dot(nb, v), 0.), nh = max(dot(nb, h), 0.), nf = max(dot(nb, hf), 0.);
  float fr = .030 + .65 * pow5(1. - max(dot(v, h), 0.)), edge = .024 + .16 * pow5(1. - nv);
  float a2 = nh * nh, a8 = a2 * a2;
  a8 *= a8;
  float a32 = a8 * a8;
  a32 *= a32;
  float b2 = nf * nf, b8 = b2 * b2;
  b8 *= b8;
  float b32 = b8 * b8;
  b32 *= b32;
  float spec = fr * (a8 * a2 * 1.15 + a32 * a8 * 2.7 * oil) * lit.g * max(kh + .1, 0.) +
               .030 * (b8 * .35 + b32 * .8 * oil);
  c += spec * mix(.75, 1.15, d1.b) * oil * 2.5 * fold * vec3(1., .98, .95);
  c += edge * sky(dot(reflect(-v, nb), uUp)) * .55 * ao.g * (.25 + .75 * lit.g) *
       mix(.5, 1., oil) * vec3(1., .93, .86);
  c = mix(c, c * .56, wet * smoothstep(.10, .6, cav));  // under the upper lid's edge
  c += wet * (a32 * a32 * .30 + b32 * b8 * .08);
  oColour = vec4(film(c), 1.);
}
