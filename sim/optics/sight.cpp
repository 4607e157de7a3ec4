// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/sight.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/refraction.hpp"

namespace redress::optics {

using namespace elementary;

namespace {

constexpr double kLargestLabel = 100.0;
constexpr int kNewtonSteps = 12;
constexpr int kHalvings = 8;
constexpr int kFixedPointSteps = 32;
// Half the span over which a slope is taken. The light's way is smooth at this scale, and rounding
// (1e-12 mm) costs the slope less than 1e-9 of itself.
constexpr double kSlopeMm = 1.0 / 1024;
// Shares of the target's distance. A place wrong by so much turns the light by that many radians.
constexpr double kSettled = 1e-14;
constexpr double kSolved = 1e-12;

/// The light moves on to the plane; nothing where it runs along the plane.
std::optional<Vector> meet(Ray ray, Vector point, Vector normal) {
  const double rate = dot(ray.direction, normal);
  if (!(magnitude(rate) > 0.0)) return std::nullopt;
  return ray.origin + ray.direction * (dot(point - ray.origin, normal) / rate);
}

/// One face; `normal` points the way the light goes.
std::optional<Ray> cross_face(Ray ray, Vector point, Vector normal, double ratio) {
  const auto direction = refract(ray.direction, normal, ratio);
  if (!direction) return std::nullopt;
  const auto origin = meet(ray, point, normal);
  if (!origin) return std::nullopt;
  return Ray{*origin, *direction};
}

/// A place in a plane perpendicular to the direction of the target: along its two axes, mm.
struct Place {
  double across = 0.0;
  double up = 0.0;
};

/// Light from the target, aimed at a place in a plane before the eye; what matters is by how much
/// it then misses the centre of rotation.
struct Aim {
  Vector centre;
  Vector target;
  Vector axis;  ///< unit, from the centre to the target
  Vector across;
  Vector up;
  std::span<const PrismSolid> prisms;
  const Lens* lens = nullptr;  ///< between the prisms and the eye
  LensPart part = LensPart::distance;

  Aim(Vector centre_of_rotation, Vector target_point, std::span<const PrismSolid> solids)
      : centre(centre_of_rotation),
        target(target_point),
        axis(normalised(target_point - centre_of_rotation)),
        prisms(solids) {
    const Vector vertical{0, 1, 0};
    up = normalised(vertical - axis * dot(vertical, axis));
    across = cross(axis, up);
  }

  /// The light's last stretch, towards the eye.
  [[nodiscard]] std::optional<Ray> send(Place place) const {
    const Vector through =
        centre + (axis * kPrismToCentreMm + (across * place.across + up * place.up));
    const auto light = trace_inward({target, normalised(through - target)}, prisms);
    if (!light || lens == nullptr) return light;
    return pass_inward(*lens, part, centre, *light);
  }

  [[nodiscard]] std::optional<Place> miss(Place place) const {
    const auto light = send(place);
    if (!light) return std::nullopt;
    const double rate = dot(light->direction, axis);
    if (!(rate < 0.0)) return std::nullopt;
    const Vector gap = light->origin - centre;
    const Vector off = gap - light->direction * (dot(gap, axis) / rate);
    return Place{dot(off, across), dot(off, up)};
  }
};

double size_of(Place miss) { return hypotenuse(miss.across, miss.up); }

/// The step that Newton's method takes. Slopes are taken to both sides, so that a mirrored problem
/// takes exactly the mirrored step.
std::optional<Place> calc_step(const Aim& aim, Place place, Place miss) {
  const auto right = aim.miss({place.across + kSlopeMm, place.up});
  const auto left = aim.miss({place.across - kSlopeMm, place.up});
  const auto above = aim.miss({place.across, place.up + kSlopeMm});
  const auto below = aim.miss({place.across, place.up - kSlopeMm});
  if (!right || !left || !above || !below) return std::nullopt;
  constexpr double kScale = 0.5 / kSlopeMm;
  const double aa = kScale * (right->across - left->across);
  const double ua = kScale * (right->up - left->up);
  const double au = kScale * (above->across - below->across);
  const double uu = kScale * (above->up - below->up);
  const double determinant = aa * uu - au * ua;
  if (!(magnitude(determinant) > 1e-12)) return std::nullopt;
  return Place{(au * miss.up - uu * miss.across) / determinant,
               (ua * miss.across - aa * miss.up) / determinant};
}

/// From this place on, the direction in which the light arrives at the centre of rotation.
std::optional<Vector> solve(const Aim& aim, Place place) {
  auto miss = aim.miss(place);
  if (!miss) return std::nullopt;
  const double distance = length(aim.target - aim.centre);
  for (int i = 0; i < kNewtonSteps && size_of(*miss) > kSettled * distance; ++i) {
    const auto step = calc_step(aim, place, *miss);
    if (!step) return std::nullopt;
    // A step that ends where no light passes, or farther off, is halved.
    double share = 1.0;
    for (int halving = 0; halving < kHalvings; ++halving) {
      const Place next{place.across + share * step->across, place.up + share * step->up};
      const auto next_miss = aim.miss(next);
      if (next_miss && size_of(*next_miss) < size_of(*miss)) {
        place = next;
        miss = next_miss;
        break;
      }
      share *= 0.5;
    }
  }
  if (!(size_of(*miss) < kSolved * distance)) return std::nullopt;
  return -aim.send(place)->direction;
}

bool is_beyond(std::span<const PrismSolid> prisms, Vector target_point) {
  const PrismSolid& outermost = prisms.back();
  return dot(target_point - outermost.front_point, outermost.front_normal) > 0.0;
}

// Where a line through the centre of rotation crosses the lens, from the point straight ahead.
Place place_in(const Lens& lens, Vector direction) {
  const double share = calc_distance_to_centre(lens) / -direction.z;
  return {share * direction.x, share * direction.y};
}

std::optional<LensSight> look_through_part(const Lens& lens, LensPart part, Vector centre,
                                           Vector target, std::span<const PrismSolid> prisms) {
  Aim aim(centre, target, prisms);
  aim.lens = &lens;
  aim.part = part;
  const auto direction = solve(aim, {});
  if (!direction || !(direction->z < 0.0)) return std::nullopt;
  const Place at = place_in(lens, *direction);
  return LensSight{*direction, calc_effect(lens, part, at.across, at.up).power, part};
}

}  // namespace

Vector target_point(double distance_m, double horizontal_deg, double vertical_deg) {
  return line_of_sight({Degrees{horizontal_deg}, Degrees{vertical_deg}}) * (1000.0 * distance_m);
}

Vector centre_of_rotation(Eye eye, Millimetres ipd) {
  return {side_of(eye) * (0.5 * ipd.value), 0.0, 0.0};
}

Vector corneal_apex(Vector centre_of_rotation, Vector line_of_sight) {
  return centre_of_rotation + line_of_sight * kCorneaToCentreMm;
}

Vector entrance_pupil(Vector centre_of_rotation, Vector line_of_sight) {
  return centre_of_rotation + line_of_sight * kPupilToCentreMm;
}

std::optional<Ray> trace(Ray ray, std::span<const PrismSolid> prisms) {
  for (const PrismSolid& prism : prisms) {
    const auto inside = cross_face(ray, prism.back_point, prism.back_normal, 1.0 / prism.index);
    if (!inside) return std::nullopt;
    const auto outside = cross_face(*inside, prism.front_point, prism.front_normal, prism.index);
    if (!outside) return std::nullopt;
    ray = *outside;
  }
  return ray;
}

std::optional<Ray> trace_inward(Ray ray, std::span<const PrismSolid> prisms) {
  for (std::size_t i = prisms.size(); i-- > 0;) {
    const PrismSolid& prism = prisms[i];
    const auto inside = cross_face(ray, prism.front_point, -prism.front_normal, 1.0 / prism.index);
    if (!inside) return std::nullopt;
    const auto outside = cross_face(*inside, prism.back_point, -prism.back_normal, prism.index);
    if (!outside) return std::nullopt;
    ray = *outside;
  }
  return ray;
}

std::optional<Vector> apparent_direction(Vector centre_of_rotation, Vector target_point,
                                         std::span<const PrismSolid> prisms) {
  if (prisms.empty()) return normalised(target_point - centre_of_rotation);
  if (!is_beyond(prisms, target_point)) return std::nullopt;
  // From the target's side: the light's direction there is nearly known, and the way on from there
  // is nearly linear, even where the eye, looking straight at the target, would meet total internal
  // reflection.
  const Aim aim(centre_of_rotation, target_point, prisms);
  return solve(aim, {});
}

std::optional<LensSight> look_through(const Lens& lens, Vector centre_of_rotation,
                                      Vector target_point, std::span<const PrismSolid> prisms) {
  if (prisms.empty()) return look_through(lens, centre_of_rotation, target_point);
  if (lens.contact) {
    const auto direction = apparent_direction(centre_of_rotation, target_point, prisms);
    if (!direction) return std::nullopt;
    return LensSight{*direction, lens.power, LensPart::distance};
  }
  if (!is_beyond(prisms, target_point)) return std::nullopt;
  const auto far =
      look_through_part(lens, LensPart::distance, centre_of_rotation, target_point, prisms);
  if (lens.design != LensDesign::bifocal || !far) return far;
  const Place at = place_in(lens, far->direction);
  if (part_at(lens, at.across, at.up) == LensPart::distance) return far;
  return look_through_part(lens, LensPart::near, centre_of_rotation, target_point, prisms);
}

Degrees vergence_demand(Millimetres ipd, double distance_m) {
  return Degrees{2.0 * arc_tangent(0.5 * ipd.value, 1000.0 * distance_m) * kDegreesPerRadian};
}

PrismDioptres near_effect(PrismDioptres label, double distance_m) {
  return PrismDioptres{label.value / (1.0 + kPrismToCentreMm / (1000.0 * distance_m))};
}

std::optional<NeutralisingLabel> neutralising(Eye eye, Vector line_of_sight,
                                              Vector centre_of_rotation, Vector target_point,
                                              const Lens* lens) {
  const Vector ahead{0, 0, -1};
  const Vector back_point = centre_of_rotation + ahead * kPrismToCentreMm;
  Ray sight{centre_of_rotation, line_of_sight};
  if (lens != nullptr && !lens->contact) {
    if (!(line_of_sight.z < 0.0)) return std::nullopt;
    const Place at = place_in(*lens, line_of_sight);
    sight = pass_outward(*lens, part_at(*lens, at.across, at.up), centre_of_rotation, sight);
  }
  const auto in = cross_face(sight, back_point, ahead, 1.0 / kPlasticIndex);
  if (!in) return std::nullopt;

  // The line of sight inside the prism is known. The front face has to turn it to the target, and a
  // face that turns n u into v is perpendicular to n u - v (Snell's law as vectors). Where the face
  // lies depends on its tilt only through the thickness, so that this settles at once.
  Vector normal = ahead;
  Vector hit = in->origin;
  double label = 0.0;
  for (int i = 0; i < kFixedPointSteps; ++i) {
    normal = normalised(kPlasticIndex * in->direction - normalised(target_point - hit));
    if (!(normal.z < 0.0)) return std::nullopt;
    const double apex_tangent = hypotenuse(normal.x, normal.y) / -normal.z;
    const auto deviation = calc_deviation(Degrees{arc_tangent(apex_tangent) * kDegreesPerRadian},
                                          kPlasticIndex, Calibration::frontal);
    if (!deviation) return std::nullopt;
    label = to_prism_dioptres(*deviation).value;
    const double thickness = calc_edge_distance(PrismDioptres{label}).value * apex_tangent;
    const auto next = meet(*in, back_point + ahead * thickness, normal);
    if (!next) return std::nullopt;
    hit = *next;
  }
  if (!(dot(normal, target_point - hit) > 0.0) || !(label <= kLargestLabel)) return std::nullopt;

  const double apex_sine = hypotenuse(normal.x, normal.y);
  if (apex_sine == 0.0) return NeutralisingLabel{};
  // The front face leans away from the base.
  const double share = label / apex_sine;
  return NeutralisingLabel{PrismDioptres{-side_of(eye) * (share * normal.x)},
                           PrismDioptres{side_of(eye) * (share * normal.y)}};
}

}  // namespace redress::optics
