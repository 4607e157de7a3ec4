#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// One wedge of clear plastic. The ray from the examiner is clipped against its six faces, bent at
// the front and at the back, and carried to the plane of the pupils.
in vec3 vPos;
out vec4 oColour;
#include "light.glsl"
uniform mat4 uToClip;
uniform sampler2D uBehind;
uniform vec2 uPixels;
uniform float uPixel, uEyePlane, uIndex, uSpread, uApex;
uniform vec3 uCentre, uNormal, uBase, uAlong;  // middle of the back face and its axes
uniform vec4 uSize;   // half width, half step, thickness at the apex, 1 for a bar

// Where a ray through o along d enters (x) and leaves (y) the slab |axis| < half.
vec2 slab(float o, float d, float across) {
  float inv = 1. / (abs(d) < 1e-6 ? 1e-6 : d);
  float a = (-across - o) * inv, b = (across - o) * inv;
  return vec2(min(a, b), max(a, b));
}
vec2 toPixels(vec3 p) {
  vec4 q = uToClip * vec4(p, 1.);
  return (q.xy / q.w * .5 + .5) * uPixels;
}
void main() {
  vec3 ro = uCam - uCentre, rd = normalize(vPos - uCam);
  vec3 local = vec3(dot(rd, uBase), dot(rd, uAlong), dot(rd, uNormal));
  vec3 o = vec3(dot(ro, uBase), dot(ro, uAlong), dot(ro, uNormal));
  // In its own axes: x to the base, y along the bar, z to the examiner.
  vec3 front = vec3(-sin(uApex), 0., cos(uApex));
  float middle = uSize.z + uSize.x * tan(uApex);
  vec2 sx = slab(o.x, local.x, uSize.x), sy = slab(o.y, local.y, uSize.y);
  float tFront = (middle * cos(uApex) - dot(front, o)) / dot(front, local);
  float enter = max(tFront, max(sx.x, sy.x)), leave = min(-o.z / local.z, min(sx.y, sy.y));
  if (enter >= leave) discard;
  vec3 hit = o + local * enter;
  vec2 inner = uSize.xy - abs(hit.xy);  // from the edges of the front
  vec3 straight = texelFetch(uBehind, ivec2(gl_FragCoord.xy), 0).rgb;
  vec3 nf = uBase * front.x + uNormal * front.z;
  if (enter > tFront) {  // a ground side: frosted, lit from all round
    vec3 n = sx.x > sy.x ? uBase * sign(hit.x) : uAlong * sign(hit.y);
    vec3 light = sky(dot(n, uUp)) * 1.2 + max(dot(n, uKey), 0.) * KEY * .8 + FILL * .5;
    oColour = vec4(mix(straight * .85, film(vec3(.60, .65, .67) * light), .62), 1.);
    return;
  }
  vec3 inside = refract(local, front, 1. / uIndex);
  vec3 away = refract(inside, vec3(0., 0., 1.), uIndex);
  // Where it leaves: the back, or one of the sides.
  float tBack = -hit.z / inside.z, tx = slab(hit.x, inside.x, uSize.x).y,
        ty = slab(hit.y, inside.y, uSize.y).y;
  vec3 p = hit + inside * tBack;
  vec3 from = uCentre + uBase * p.x + uAlong * p.y + uNormal * p.z;
  vec3 way = uBase * away.x + uAlong * away.y + uNormal * away.z;
  vec2 here = gl_FragCoord.xy, shift = toPixels(from + way * ((uEyePlane - from.z) / way.z)) - here;
  // Blue is bent more than red, by the dispersion 1/V.
  vec3 glass = vec3(textureLod(uBehind, (here + shift * (1. - uSpread)) / uPixels, 0.).r,
                    textureLod(uBehind, (here + shift) / uPixels, 0.).g,
                    textureLod(uBehind, (here + shift * (1. + uSpread)) / uPixels, 0.).b) *
               vec3(.915, .930, .930);
  if (min(tx, ty) < tBack) {  // a ground side from within
    glass = mix(straight * .55, film(vec3(.46, .52, .54) * (tx < ty ? .85 : .55)), .7);
  } else if (away == vec3(0.)) {
    glass = film(vec3(.16, .18, .19));  // totally reflected
  }
  // Surface: a faint window across it, the bevelled edges, the lines between steps, the label.
  vec3 r = reflect(rd, nf);
  float streak = smoothstep(.16, .0, abs(hit.x / uSize.x + .12 * hit.y / uSize.y + .42) - .02);
  glass += film(vec3(.019, .020, .021)) + streak * film(vec3(.050, .052, .054));
  float line = smoothstep(.55 + uPixel, .15, inner.x);
  float joint = smoothstep(.30 + uPixel, .05, inner.y);
  float lit = hit.x > 0. ? 1. : .75;
  glass = mix(glass, film(vec3(.62, .66, .68) * lit), line * .75);
  glass = mix(glass, hit.y > 0. ? glass * .45 : film(vec3(.55, .58, .60)),
              joint * (uSize.w > .5 ? .55 : .75));
  glass *= 1. - .22 * smoothstep(2.2, .5, inner.x) * (1. - line);
  oColour = vec4(glass, 1.);
}
