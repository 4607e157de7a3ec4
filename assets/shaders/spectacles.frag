#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// One spectacle lens in its rim, the bridge between both, or a temple; and what they take from the
// light on the face. vLocal is mm on the plane of the lenses from the middle of the rim.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
uniform mat4 uToClip;
uniform sampler2D uBehind;
uniform vec2 uPixels, uEye;  // uEye: straight ahead of the eye's centre of rotation, on the plane
uniform vec3 uAcross, uUpward, uRimColour;
uniform float uPixel, uEyePlane;
uniform int uPart;      // 0 shadow of lens and rim, 1 lens and rim, 2 bridge, 3 temple
uniform vec4 uShape;    // half width, half height, corner, rim of the lens
uniform vec4 uOuter;    // towards the ear -1/+1, half width of the bridge, shine of the rim, end piece
uniform vec4 uPower;    // xx, xy, yy: 1/mm; addition
uniform vec4 uCentre;   // optical centre from uEye; prism as slopes
uniform vec4 uNear;     // design 0 1 2; middle and top from uEye; corridor
uniform vec3 uShift;    // of the shadow, and its softness
const float SEGMENT = 14., SEGMENT_CENTRE = 5., BESIDE = 8., CURVE = 95.;

float boxEdge(vec2 p, vec2 b, float r) {
  vec2 q = abs(p) - b + r;
  return length(max(q, 0.)) + min(max(q.x, q.y), 0.) - r;
}
float lensEdge(vec2 p) {  // narrower below than above unless it is round
  float taper = uShape.z < uShape.y - .01 ? .11 * clamp(p.y / uShape.y, -1., 1.) : 0.;
  return boxEdge(vec2(p.x * (1. - taper), p.y), uShape.xy, uShape.z);
}
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
  return max(up - .5 * uShape.w - .35, abs(p.x) - uOuter.y - .4);
}
float minimumJerk(float u) { return u * u * u * (10. + u * (6. * u - 15.)); }
// How much a line going outwards is bent at a place, as slopes: the engine's lens.
vec2 bend(vec2 at) {
  vec2 q = at - uCentre.xy;
  vec2 b = uCentre.zw - vec2(uPower.x * q.x + uPower.y * q.y, uPower.y * q.x + uPower.z * q.y);
  vec2 n = at - uNear.yz;
  if (uNear.x == 1. && n.y < 0. && abs(n.x) <= SEGMENT) {
    b -= uPower.w * vec2(n.x, n.y + SEGMENT_CENTRE);
  } else if (uNear.x == 2. && n.y < 0.) {
    float t = -n.y, len = uNear.w, u = min(t / len, 1.), r = n.x / BESIDE, root = sqrt(1. + r * r);
    float rate = 30. * u * u * (1. - u) * (1. - u) / len;
    float below = t < len ? len * u * u * u * u * (u * (u - 3.) + 2.5) : .5 * len + t - len;
    b += uPower.w * vec2(-minimumJerk(u) * n.x / root, below + rate * BESIDE * BESIDE * (root - 1.));
  }
  return b;
}
vec2 toPixels(vec3 p) {
  vec4 q = uToClip * vec4(p, 1.);
  return (q.xy / q.w * .5 + .5) * uPixels;
}
// A lit window of the room in a surface that is curved as spectacle lenses are, a little tilted
// towards the cheeks: it moves over the lens when the head does.
float windowIn(vec2 p, vec3 rd, float curve) {
  vec3 face = cross(uAcross, uUpward);
  vec3 n = normalize(face + uAcross * (p.x / curve) + uUpward * (p.y / curve - .075));
  vec3 r = reflect(rd, n), side = normalize(cross(uUp, uKey)), ahead = cross(side, uUp);
  // It stands behind the examiner, a little to the lamp's side and a little higher than the head.
  vec3 to = normalize(ahead * .934 + side * .358 + uUp * .085);
  vec3 across = normalize(cross(uUp, to));
  vec2 pane = vec2(dot(r, across), dot(r, cross(to, across))) / vec2(.14, .12);
  float soft = .20;
  float lit = smoothstep(1. + soft, 1. - soft, abs(pane.x)) *
              smoothstep(1. + soft, 1. - soft, abs(pane.y)) *
              smoothstep(.04, .10, abs(pane.x)) * smoothstep(.03, .09, abs(pane.y + .1));
  return dot(r, to) > 0. ? lit : 0.;
}
vec3 solid(float edge, float half_, vec2 slope, vec2 at) {  // rounded, lacquered plastic or metal
  vec3 face = cross(uAcross, uUpward);
  float t = clamp(1. + edge / half_, 0., 1.);  // 0 in its middle, 1 at its edge
  vec3 n = normalize(face + (uAcross * slope.x + uUpward * slope.y) * t * t * 1.3);
  vec3 v = normalize(uCam - vPos);
  vec3 light = sky(dot(n, uUp)) * 1.05 + max(dot(n, uKey), 0.) * KEY + max(dot(n, uFill), 0.) * FILL;
  float gloss = pow(max(dot(n, normalize(uKey + v)), 0.), 60.);
  float marble = sin(at.x * .55 + 2.1 * sin(at.y * .31)) * sin(at.y * .47 + 1.7 * sin(at.x * .23));
  vec3 c = uRimColour * (1. + .35 * marble * (1. - uOuter.z)) * light;
  c += gloss * mix(.22, .55, uOuter.z) + .03 * sky(dot(reflect(-v, n), uUp));
  return film(c);
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
  if (uPart >= 2) {
    float d = uPart == 2 ? bridgeEdge(vLocal) : boxEdge(vLocal - uShape.xy, uShape.xy, 1.5);
    float cover = smoothstep(.5 * uPixel, -.5 * uPixel, d);
    if (cover <= 0.) discard;
    vec2 slope = uPart == 2 ? vec2(0., sign(vLocal.y)) : vec2(0., sign(vLocal.y - uShape.y));
    oColour = vec4(solid(d, uPart == 2 ? .5 * uShape.w : uShape.y, slope, vLocal) * cover, cover);
    return;
  }
  float lens = lensEdge(vLocal), rim = rimEdge(vLocal);
  float inside = smoothstep(.5 * uPixel, -.5 * uPixel, lens);
  float framed = smoothstep(.5 * uPixel, -.5 * uPixel, rim);
  if (inside <= 0. && framed <= 0.) discard;
  vec3 rd = normalize(vPos - uCam), glass = vec3(0.);
  if (inside > 0.) {
    vec3 face = cross(uAcross, uUpward);
    vec3 local = vec3(dot(rd, uAcross), dot(rd, uUpward), dot(rd, face));
    vec2 at = vLocal - uEye, slope = local.xy / local.z - bend(at);
    float depth = uEyePlane - vPos.z;
    vec3 seen = vPos + (uAcross * slope.x + uUpward * slope.y + face) * depth;
    vec3 plain = vPos + rd * (depth / rd.z);
    vec2 here = gl_FragCoord.xy + toPixels(seen) - toPixels(plain);
    glass = textureLod(uBehind, here / uPixels, 0.).rgb * vec3(.955, .965, .958);
    float bright = .42 * windowIn(vLocal, rd, CURVE) + .05 * windowIn(vLocal, rd, -2.2 * CURVE);
    glass += film(vec3(.92, .97, 1.) * bright + .006);
    // The line on top of a segment, and its round border.
    vec2 n = at - uNear.yz;
    if (uNear.x == 1.) {
      float round_ = length(vec2(n.x, n.y + SEGMENT_CENTRE) * vec2(1., .94)) - SEGMENT;
      float line = max(smoothstep(.16 + uPixel, .05, abs(n.y)) * step(round_, 0.),
                       .45 * smoothstep(.18 + uPixel, .05, abs(round_)) * step(n.y, 0.));
      glass = mix(glass, n.y > -.05 ? glass * .55 : film(vec3(.62)), line * .55);
    }
    // Its edge lies in the rim's groove: a dim line, stronger where the lens is thick there.
    float thick = clamp(-.5 * (uPower.x + uPower.z) * 180., 0., 1.);
    glass *= 1. - .30 * smoothstep(-.9, -.1, lens);
    glass = mix(glass, film(vec3(.50, .54, .55)), thick * .35 * smoothstep(-1.5, -.8, lens));
  }
  vec2 slope = vec2(rimEdge(vLocal + vec2(e, 0.)), rimEdge(vLocal + vec2(0., e))) - rim;
  float around = max(lens > 0. ? 1. : 0., framed);
  vec3 c = mix(glass, solid(rim, .5 * uShape.w, slope / e, vLocal), framed);
  float cover = max(inside, framed);
  oColour = vec4((around > 0. || inside >= 1. ? c : glass) * cover, cover);
}
