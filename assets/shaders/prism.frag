#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// One wedge near its edges: the ray from the examiner is clipped against its six faces, bent at the
// front and at the back, and carried to the plane of the pupils.
in vec3 vPos;
out vec4 oColour;
#include "light.glsl"
#include "wedge.glsl"
#include "glass.glsl"

// Where a ray through o along d enters (x) and leaves (y) the slab |axis| < half.
vec2 slab(float o, float d, float across) {
  float inv = 1. / (abs(d) < 1e-6 ? 1e-6 : d);
  float a = (-across - o) * inv, b = (across - o) * inv;
  return vec2(min(a, b), max(a, b));
}
void main() {
  vec3 rd = normalize(vPos - uCam), local = toWedge(rd), o = toWedge(uCam - uCentre);
  float tFront = frontAt(o, local);
  vec2 sx = slab(o.x, local.x, uSize.x), sy = slab(o.y, local.y, uSize.y);
  float enter = max(tFront, max(sx.x, sy.x)), leave = min(-o.z / local.z, min(sx.y, sy.y));
  // Towards its outline the way through it gets short: a pixel there is the wedge's only in part.
  float through = leave - enter, cover = clamp(through / max(fwidth(through), 1e-4), 0., 1.);
  if (through <= 0.) discard;
  vec3 hit = o + local * enter;
  vec2 inner = uSize.xy - abs(hit.xy);  // from the edges of the front
  // Not texelFetch, which decodes whatever was asked for.
  vec3 straight = decode(textureLod(uBehind, gl_FragCoord.xy / uPixels, 0.).rgb);
  if (enter > tFront) {  // a ground side: frosted, lit from all round
    vec3 n = sx.x > sy.x ? uBase * sign(hit.x) : uAlong * sign(hit.y);
    vec3 light = sky(dot(n, uUp)) * 1.2 + max(dot(n, uKey), 0.) * KEY * .8 + FILL * .5;
    vec3 side = mix(straight * .85, film(vec3(.60, .65, .67) * light), .62);
    oColour = vec4(mix(straight, side, cover), 1.);
    return;
  }
  vec3 inside, away;
  vec2 here = gl_FragCoord.xy, shift = seenAt(hit, local, inside, away) - here;
  // Where it leaves: the back, or one of the sides.
  float tBack = -hit.z / inside.z, tx = slab(hit.x, inside.x, uSize.x).y,
        ty = slab(hit.y, inside.y, uSize.y).y;
  vec3 glass = throughGlass(here, shift);
  if (min(tx, ty) < tBack) {  // a ground side from within
    glass = mix(straight * .55, film(vec3(.46, .52, .54) * (tx < ty ? .85 : .55)), .7);
  } else if (away == vec3(0.)) {
    glass = film(vec3(.16, .18, .19));  // totally reflected
  }
  // The bevelled edges and the lines between steps.
  glass = mirrorIn(glass, hit.xy);
  float line = smoothstep(.55 + uPixel, .15, inner.x);
  float joint = smoothstep(.30 + uPixel, .05, inner.y);
  float lit = hit.x > 0. ? 1. : .75;
  glass = mix(glass, film(vec3(.62, .66, .68) * lit), line * .75);
  glass = mix(glass, hit.y > 0. ? glass * .45 : film(vec3(.55, .58, .60)),
              joint * (uSize.w > .5 ? .55 : .75));
  glass *= 1. - .22 * nearEnds(hit.xy) * (1. - line);
  oColour = vec4(mix(straight, glass, cover), 1.);
}
