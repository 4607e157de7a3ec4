#version 330 core
// SPDX-License-Identifier: MIT
// Copyright the Redress authors
// The glass of one spectacle lens: what lies behind it, displaced as a thin lens does, the line of
// a segment, and a window of the room mirrored in its front.
in vec3 vPos;
in vec2 vLocal;
out vec4 oColour;
#include "light.glsl"
#include "frame.glsl"
uniform mat4 uToClip;
uniform sampler2D uBehind;
#include "stored.glsl"
uniform vec2 uPixels, uEye;  // uEye: straight ahead of the eye's centre of rotation, on the plane
uniform float uEyePlane;
uniform vec4 uPower;   // xx, xy, yy: 1/mm; addition
uniform vec4 uCentre;  // optical centre from uEye; prism as slopes
uniform mat3 uWindow;   // across, up and towards a window of the room
uniform vec4 uNear;    // design 0 1 2; middle and top from uEye; corridor
const float SEGMENT = 14., SEGMENT_CENTRE = 5., BESIDE = 8., CURVE = 95.;

// Of a segment, from the middle of its top: a disc that is cut off above.
float segmentEdge(vec2 n) { return max(length(vec2(n.x, n.y + SEGMENT_CENTRE)) - SEGMENT, n.y); }
float minimumJerk(float u) { return u * u * u * (10. + u * (6. * u - 15.)); }
// How much a line going outwards is bent at a place, as slopes: the engine's lens.
vec2 bend(vec2 at) {
  vec2 q = at - uCentre.xy;
  vec2 b = uCentre.zw - vec2(uPower.x * q.x + uPower.y * q.y, uPower.y * q.x + uPower.z * q.y);
  vec2 n = at - uNear.yz;
  if (uNear.x == 1. && segmentEdge(n) < 0.) {
    b -= uPower.w * vec2(n.x, n.y + SEGMENT_CENTRE);
  } else if (uNear.x == 2. && n.y < 0.) {
    float t = -n.y, len = uNear.w, u = min(t / len, 1.), r = n.x / BESIDE, root = sqrt(1. + r * r);
    float rate = 30. * u * u * (1. - u) * (1. - u) / len;
    float below = t < len ? len * u * u * u * u * (u * (u - 3.) + 2.5) : .5 * len + t - len;
    float beside = BESIDE * BESIDE * (root - 1.);
    b += uPower.w * vec2(-minimumJerk(u) * n.x / root, below + rate * beside);
  }
  return b;
}
vec2 toPixels(vec3 p) {
  vec4 q = uToClip * vec4(p, 1.);
  return (q.xy / q.w * .5 + .5) * uPixels;
}
// A lit window of the room in a surface that is curved as spectacle lenses are, a little tilted
// towards the cheeks: it moves over the lens when the head does.
float windowIn(vec2 p, vec3 rd, vec3 face) {
  vec3 n = normalize(face + uAcross * (p.x / CURVE) + uUpward * (p.y / CURVE - .075));
  vec3 r = transpose(uWindow) * reflect(rd, n);
  vec2 pane = r.xy / vec2(.14, .12);
  const float soft = .20;
  return smoothstep(1. + soft, 1. - soft, abs(pane.x)) *
         smoothstep(1. + soft, 1. - soft, abs(pane.y)) * smoothstep(.04, .10, abs(pane.x)) *
         smoothstep(.03, .09, abs(pane.y + .1)) * step(0., r.z);
}
void main() {
  float lens = lensEdge(vLocal), inside = smoothstep(.5 * uPixel, -.5 * uPixel, lens);
  if (inside <= 0.) discard;
  vec3 rd = normalize(vPos - uCam);
  vec3 face = cross(uAcross, uUpward);
  vec3 local = vec3(dot(rd, uAcross), dot(rd, uUpward), dot(rd, face));
  vec2 at = vLocal - uEye, slope = local.xy / local.z - bend(at);
  float depth = uEyePlane - vPos.z;
  vec3 seen = vPos + (uAcross * slope.x + uUpward * slope.y + face) * depth;
  vec3 plain = vPos + rd * (depth / rd.z);
  vec2 here = gl_FragCoord.xy + toPixels(seen) - toPixels(plain);
  vec3 glass = decode(textureLod(uBehind, here / uPixels, 0.).rgb) * vec3(.955, .965, .958);
  glass += film(vec3(.92, .97, 1.) * .42 * windowIn(vLocal, rd, face) + .006);
  // The line on top of a segment, and its round border.
  vec2 n = at - uNear.yz;
  if (uNear.x == 1.) {
    float line = smoothstep(.16 + uPixel, .05, abs(segmentEdge(n))) * (n.y > -.3 ? 1. : .5);
    glass = mix(glass, n.y > -.3 ? glass * .55 : film(vec3(.62)), line * .55);
  }
  // Its edge lies in the rim's groove: a dim line, stronger where the lens is thick there.
  float thick = clamp(-.5 * (uPower.x + uPower.z) * 180., 0., 1.);
  glass *= 1. - .30 * smoothstep(-.9, -.1, lens);
  glass = mix(glass, film(vec3(.50, .54, .55)), thick * .35 * smoothstep(-1.5, -.8, lens));
  oColour = vec4(glass * inside, inside);
}
