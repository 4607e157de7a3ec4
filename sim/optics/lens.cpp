// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/lens.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/path.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/sight.hpp"

namespace redress::optics {

using namespace elementary;

namespace {

constexpr double kMmPerM = 1000.0;
constexpr int kNewtonSteps = 24;
constexpr double kSolvedSlope = 1e-14;
// A line that has to turn more steeply than this is no line of sight (85 degrees).
constexpr double kSteepestSlope = 11.4;

struct Slopes {
  double x = 0.0;
  double y = 0.0;
};

// Per unit of -z; the same for a line in either sense.
Slopes slopes_of(Vector direction) {
  return {-(direction.x / direction.z), -(direction.y / direction.z)};
}

// The addition of a progressive lens as a height whose slopes are the bends and whose curvatures
// are the powers, for one dioptre:
//   H = G(t) + f(t) w(x),  t mm below the top of the corridor, x mm beside it,
//   f the share of the addition, G'' = f, w = x^2 / 2 near the corridor and flatter beyond.
// That beside a corridor astigmatism must grow twice as fast as the power down it (Minkwitz 1963)
// follows from there being such a height.
LensEffect calc_progression(const Lens& lens, double x_mm, double y_mm) {
  const double t = lens.near_top_mm - y_mm;
  if (!(t > 0.0)) return {};
  const double length = lens.corridor_mm;
  const double u = t < length ? t / length : 1.0;
  const double share = minimum_jerk_fraction(u);
  const double rate = 30.0 * (u * u) * ((1.0 - u) * (1.0 - u)) / length;
  const double curve = 60.0 * u * (1.0 - u) * (1.0 - 2.0 * u) / (length * length);
  const double below =
      t < length ? length * (u * u * u * u * (u * (u - 3.0) + 2.5)) : 0.5 * length + (t - length);

  const double x = x_mm - lens.near_x_mm;
  const double r = x / kProgressiveWidthMm;
  const double root = square_root(1.0 + r * r);
  const double w = kProgressiveWidthMm * kProgressiveWidthMm * (root - 1.0);
  const double w_slope = x / root;
  const double w_curve = 1.0 / (root * root * root);

  LensEffect e;
  const double add = lens.add_d / kMmPerM;
  e.bend_x = -add * (share * w_slope);
  e.bend_y = add * (below + rate * w);
  e.power = {lens.add_d * (share * w_curve), -(lens.add_d * (rate * w_slope)),
             lens.add_d * (share + curve * w)};
  return e;
}

LensEffect calc_segment(const Lens& lens, double x_mm, double y_mm) {
  const double add = lens.add_d / kMmPerM;
  return {-add * (x_mm - lens.near_x_mm), -add * (y_mm - (lens.near_top_mm - kSegmentCentreMm)),
          sphere_of(lens.add_d)};
}

// Where a ray crosses the plane of the lens.
Vector cross_plane(const Lens& lens, Vector centre, const Ray& ray) {
  const double plane_z = centre.z - calc_distance_to_centre(lens);
  return ray.origin + ray.direction * ((plane_z - ray.origin.z) / ray.direction.z);
}

}  // namespace

double half_cylinder(PowerMatrix a) { return hypotenuse(0.5 * (a.xx - a.yy), a.xy); }

PowerMatrix to_powers(Dioptres sphere, Dioptres cylinder, Degrees axis) {
  if (cylinder.value == 0.0) return sphere_of(sphere.value);
  // The power of a cylinder acts across its axis.
  const Vector a = base_direction(axis);
  return {sphere.value + cylinder.value * (a.y * a.y), -(cylinder.value * (a.x * a.y)),
          sphere.value + cylinder.value * (a.x * a.x)};
}

PowerMatrix carried(PowerMatrix v, double distance_mm) {
  // V (1 - d V)^-1, which for a symmetric matrix is (V - d det V) / det(1 - d V).
  const double d = distance_mm / kMmPerM;
  const double determinant = v.xx * v.yy - v.xy * v.xy;
  const double scale = (1.0 - d * v.xx) * (1.0 - d * v.yy) - (d * v.xy) * (d * v.xy);
  return {(v.xx - d * determinant) / scale, v.xy / scale, (v.yy - d * determinant) / scale};
}

bool is_plano(const Lens& lens) {
  return lens.power == PowerMatrix{} && lens.prism_x == 0.0 && lens.prism_y == 0.0 &&
         (lens.design == LensDesign::single || lens.add_d == 0.0);
}

double calc_distance_to_centre(const Lens& lens) { return lens.vertex_mm + kCorneaToCentreMm; }

LensPart part_at(const Lens& lens, double x_mm, double y_mm) {
  const bool near = lens.design == LensDesign::bifocal && y_mm < lens.near_top_mm &&
                    magnitude(x_mm - lens.near_x_mm) <= kSegmentHalfWidthMm;
  return near ? LensPart::near : LensPart::distance;
}

LensEffect calc_effect(const Lens& lens, LensPart part, double x_mm, double y_mm) {
  const double x = x_mm - lens.centre_x_mm;
  const double y = y_mm - lens.centre_y_mm;
  const PowerMatrix& f = lens.power;
  LensEffect e{lens.prism_x - (f.xx * x + f.xy * y) / kMmPerM,
               lens.prism_y - (f.xy * x + f.yy * y) / kMmPerM, f};
  if (lens.design == LensDesign::single) return e;
  if (lens.design == LensDesign::bifocal && part == LensPart::distance) return e;
  const LensEffect more = lens.design == LensDesign::bifocal ? calc_segment(lens, x_mm, y_mm)
                                                             : calc_progression(lens, x_mm, y_mm);
  return {e.bend_x + more.bend_x, e.bend_y + more.bend_y, e.power + more.power};
}

Ray pass_outward(const Lens& lens, LensPart part, Vector centre, Ray ray) {
  if (lens.contact) return ray;
  const Vector place = cross_plane(lens, centre, ray);
  const LensEffect e = calc_effect(lens, part, place.x - centre.x, place.y - centre.y);
  const Slopes s = slopes_of(ray.direction);
  return {place, normalised({s.x + e.bend_x, s.y + e.bend_y, -1.0})};
}

Ray pass_inward(const Lens& lens, LensPart part, Vector centre, Ray light) {
  if (lens.contact) return light;
  const Vector place = cross_plane(lens, centre, light);
  const LensEffect e = calc_effect(lens, part, place.x - centre.x, place.y - centre.y);
  const Slopes s = slopes_of(light.direction);
  return {place, normalised({e.bend_x - s.x, e.bend_y - s.y, 1.0})};
}

std::optional<LensSight> look_through(const Lens& lens, LensPart part, Vector centre,
                                      Vector target) {
  const Vector to_target = target - centre;
  if (lens.contact) return LensSight{normalised(to_target), lens.power, LensPart::distance};
  const double depth = -to_target.z;
  const double d = calc_distance_to_centre(lens);
  if (!(depth > d)) return std::nullopt;
  // The line with slopes s from the centre crosses the lens at d s and has to pass the target:
  //   d s + (depth - d) (s + bend(d s)) = target.    In units of the depth:
  const double rest = 1.0 - d / depth;
  const double wanted_x = to_target.x / depth;
  const double wanted_y = to_target.y / depth;
  Slopes s{wanted_x, wanted_y};
  LensEffect e;
  for (int i = 0; i < kNewtonSteps; ++i) {
    e = calc_effect(lens, part, d * s.x, d * s.y);
    const double miss_x = wanted_x - (s.x + rest * e.bend_x);
    const double miss_y = wanted_y - (s.y + rest * e.bend_y);
    const double k = rest * (d / kMmPerM);
    const double xx = 1.0 - k * e.power.xx;
    const double yy = 1.0 - k * e.power.yy;
    const double xy = -(k * e.power.xy);
    const double determinant = xx * yy - xy * xy;
    if (!(xx > 0.0 && determinant > 0.0)) return std::nullopt;
    if (magnitude(miss_x) + magnitude(miss_y) < kSolvedSlope) {
      return LensSight{normalised({s.x, s.y, -1.0}), e.power, part};
    }
    s.x += (yy * miss_x - xy * miss_y) / determinant;
    s.y += (xx * miss_y - xy * miss_x) / determinant;
    if (!(magnitude(s.x) + magnitude(s.y) < kSteepestSlope)) return std::nullopt;
  }
  return std::nullopt;
}

std::optional<LensSight> look_through(const Lens& lens, Vector centre, Vector target) {
  const auto far = look_through(lens, LensPart::distance, centre, target);
  if (lens.design != LensDesign::bifocal || !far) return far;
  const double d = calc_distance_to_centre(lens);
  const Slopes s = slopes_of(far->direction);
  if (part_at(lens, d * s.x, d * s.y) == LensPart::distance) return far;
  return look_through(lens, LensPart::near, centre, target);
}

Focus calc_focus(PowerMatrix correction, const Lens& lens, PowerMatrix power, double distance_m) {
  if (lens.contact) return calc_focus(correction - power, distance_m);
  const double from_lens = distance_m - calc_distance_to_centre(lens) / kMmPerM;
  const PowerMatrix left = correction - carried(power - sphere_of(1.0 / from_lens), lens.vertex_mm);
  return {mean_of(left), half_cylinder(left)};
}

Focus calc_focus(PowerMatrix correction, double distance_m) {
  const double vergence = 1.0 / (distance_m - kCorneaToCentreMm / kMmPerM);
  return {vergence + mean_of(correction), half_cylinder(correction)};
}

}  // namespace redress::optics
