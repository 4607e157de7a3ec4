// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/prism.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/refraction.hpp"

namespace redress::optics {

using namespace elementary;

namespace {

constexpr int kBisections = 60;
constexpr double kScanStepDeg = 2.0;
constexpr int kScanStepsEachWay = 42;
constexpr double kSameCosine = 1e-13;
constexpr int kGoldenSteps = 44;
constexpr double kGoldenShare = 0.61803398874989484820;  // (sqrt 5 - 1) / 2

std::optional<double> arc_sine_within(double x) {
  if (!(x <= 1.0)) return std::nullopt;
  return arc_sine(x);
}

/// Directions only: what parallel light does.
std::optional<Vector> pass_outward(Vector direction, const PrismStack& stack) {
  for (const PrismSolid& solid : stack.view()) {
    const auto inside = refract(direction, solid.back_normal, 1.0 / solid.index);
    if (!inside) return std::nullopt;
    const auto outside = refract(*inside, solid.front_normal, solid.index);
    if (!outside) return std::nullopt;
    direction = *outside;
  }
  return direction;
}

std::optional<Vector> pass_inward(Vector direction, const PrismStack& stack) {
  for (std::size_t i = stack.count; i-- > 0;) {
    const PrismSolid& solid = stack.solids[i];
    const auto inside = refract(direction, -solid.front_normal, 1.0 / solid.index);
    if (!inside) return std::nullopt;
    const auto outside = refract(*inside, -solid.back_normal, solid.index);
    if (!outside) return std::nullopt;
    direction = *outside;
  }
  return direction;
}

PrismStack make_frontal_stack(std::span<const HeldPrism> prisms, Vector middle) {
  PrismStack stack;
  const Vector ahead{0, 0, -1};
  Vector normal = ahead;
  double edge = 0.0;
  for (const HeldPrism& prism : prisms) edge += calc_edge_distance(prism.label).value;
  for (const HeldPrism& prism : prisms) {
    if (stack.count == kMaximumPrisms) break;
    const double apex = prism.apex.value * kRadiansPerDegree;
    const Vector base = rotation_between(ahead, normal) * base_direction(prism.base);
    PrismSolid& solid = stack.solids[stack.count++];
    solid.index = index_of(prism.material);
    solid.back_point = middle;
    solid.back_normal = normal;
    // Thick towards the base, so the front face leans towards the apex.
    middle = middle + normal * (edge * tangent(apex));
    normal = normalised(cosine(apex) * normal - sine(apex) * base);
    solid.front_point = middle;
    solid.front_normal = normal;
  }
  return stack;
}

/// Cosine of the deviation of light from `target_direction` with the stack turned by `turn`; below
/// any cosine where no light gets through.
double cosine_of_deviation(const PrismStack& stack, Vector axis, Degrees turn,
                           Vector target_direction) {
  const Vector light = -(transposed(rotation_about(axis, turn)) * target_direction);
  const auto after = pass_inward(light, stack);
  return after ? dot(*after, light) : -2.0;
}

std::optional<Rotation> find_least_deviation(const PrismStack& stack, Vector axis,
                                             Vector target_direction) {
  const auto calc = [&](double turn) {
    return cosine_of_deviation(stack, axis, Degrees{turn}, target_direction);
  };
  // A coarse look first: outside some interval no light gets through, and there a golden section
  // would not know which way to go. Outward from the frontal position, which therefore stays where
  // two prisms cancel and every position is as good.
  double best = 0.0;
  double most = calc(0.0);
  for (int i = 1; i <= kScanStepsEachWay; ++i) {
    for (const double turn : {i * kScanStepDeg, -i * kScanStepDeg}) {
      const double here = calc(turn);
      if (here > most + kSameCosine) {
        most = here;
        best = turn;
      }
    }
  }
  if (most < -1.0) return std::nullopt;
  double low = best - kScanStepDeg;
  double high = best + kScanStepDeg;
  double a = high - kGoldenShare * (high - low);
  double b = low + kGoldenShare * (high - low);
  double at_a = calc(a);
  double at_b = calc(b);
  for (int i = 0; i < kGoldenSteps; ++i) {
    if (at_a > at_b) {
      high = b;
      b = a;
      at_b = at_a;
      a = high - kGoldenShare * (high - low);
      at_a = calc(a);
    } else {
      low = a;
      a = b;
      at_a = at_b;
      b = low + kGoldenShare * (high - low);
      at_b = calc(b);
    }
  }
  return rotation_about(axis, Degrees{at_a > at_b ? a : b});
}

}  // namespace

std::optional<Degrees> calc_deviation(Degrees apex, double index, Calibration position) {
  const double a = apex.value * kRadiansPerDegree;
  std::optional<double> out;
  switch (position) {
    case Calibration::prentice:
      out = arc_sine_within(index * sine(a));
      if (out) out = *out - a;
      break;
    case Calibration::frontal:
      out = arc_sine_within(index * sine(a - arc_sine(sine(a) / index)));
      break;
    case Calibration::minimum_deviation:
      out = arc_sine_within(index * sine(a / 2));
      if (out) out = 2 * *out - a;
      break;
  }
  if (!out) return std::nullopt;
  return Degrees{*out * kDegreesPerRadian};
}

std::optional<Degrees> apex_angle(PrismDioptres label, double index, Calibration calibration) {
  if (!(label.value >= 0.0) || !(index > 1.0)) return std::nullopt;
  const double deviation = arc_tangent(label.value / 100.0);
  if (calibration == Calibration::prentice) {
    const double c = cosine(deviation);
    // Beyond this the light would have to leave the front face at more than 90 degrees.
    if (c * index < 1.0) return std::nullopt;
    return Degrees{arc_tangent(sine(deviation) / (index - c)) * kDegreesPerRadian};
  }
  if (label.value == 0.0) return Degrees{0.0};
  const double wanted = deviation * kDegreesPerRadian;
  // The deviation grows with the apex until no light gets through.
  double low = 0.0;
  double high = 90.0;
  for (int i = 0; i < kBisections; ++i) {
    const double middle = 0.5 * (low + high);
    const auto reached = calc_deviation(Degrees{middle}, index, calibration);
    if (reached && reached->value < wanted) {
      low = middle;
    } else {
      high = middle;
    }
  }
  // A label that the largest prism does not reach ends the search at that prism.
  const auto reached = calc_deviation(Degrees{low}, index, calibration);
  if (!reached || wanted - reached->value > 1e-6) return std::nullopt;
  return Degrees{low};
}

std::optional<HeldPrism> make_held_prism(PrismDioptres label, Material material, Degrees base) {
  const auto apex = apex_angle(label, index_of(material), calibration_of(material));
  if (!apex) return std::nullopt;
  return HeldPrism{label, material, base, *apex};
}

Vector base_direction(Degrees base) {
  constexpr double kGrid = 16777216.0;
  constexpr std::int64_t kQuarter = 90LL << 24;
  // On a grid, so that 180 - b, rounded, is folded onto the same angle as b.
  const double scaled = base.value * kGrid;
  std::int64_t b = static_cast<std::int64_t>(scaled < 0 ? scaled - 0.5 : scaled + 0.5);
  b %= 4 * kQuarter;
  if (b < 0) b += 4 * kQuarter;
  double sign_x = -1.0;
  double sign_y = 1.0;
  if (b > 2 * kQuarter) {
    b = 4 * kQuarter - b;
    sign_y = -1.0;
  }
  if (b > kQuarter) {
    b = 2 * kQuarter - b;
    sign_x = 1.0;
  }
  if (b == kQuarter) return {0.0, sign_y, 0.0};
  const double radians = (static_cast<double>(b) / kGrid) * kRadiansPerDegree;
  return {sign_x * cosine(radians), sign_y * sine(radians), 0.0};
}

std::optional<PrismStack> make_stack(std::span<const HeldPrism> prisms, Hold hold, Degrees tilt,
                                     Vector centre_of_rotation, Vector target_direction) {
  if (prisms.empty()) return PrismStack{};
  const Vector ahead{0, 0, -1};
  const Vector middle = centre_of_rotation + ahead * kPrismToCentreMm;
  PrismStack stack = make_frontal_stack(prisms, middle);
  const Vector axis = cross(ahead, -base_direction(prisms.front().base));

  Rotation turn;
  if (hold == Hold::prentice) {
    const auto out = pass_outward(ahead, stack);
    if (!out) return std::nullopt;
    turn = rotation_between(*out, target_direction);
  } else if (hold == Hold::minimum) {
    const auto least = find_least_deviation(stack, axis, target_direction);
    if (!least) return std::nullopt;
    turn = *least;
  }
  if (tilt.value != 0.0) turn = turn * rotation_about(axis, tilt);

  for (std::size_t i = 0; i < stack.count; ++i) {
    PrismSolid& solid = stack.solids[i];
    solid.back_point = middle + turn * (solid.back_point - middle);
    solid.front_point = middle + turn * (solid.front_point - middle);
    solid.back_normal = turn * solid.back_normal;
    solid.front_normal = turn * solid.front_normal;
  }
  return stack;
}

OrientedLabel combine(OrientedLabel a, OrientedLabel b) {
  const Vector sum =
      a.power.value * base_direction(a.base) + b.power.value * base_direction(b.base);
  const double angle = arc_tangent(sum.y, -sum.x) * kDegreesPerRadian;
  return {PrismDioptres{hypotenuse(sum.x, sum.y)}, Degrees{angle < 0.0 ? angle + 360.0 : angle}};
}

LabelParts resolve(OrientedLabel label) {
  const Vector base = base_direction(label.base);
  return {PrismDioptres{-label.power.value * base.x}, PrismDioptres{label.power.value * base.y}};
}

}  // namespace redress::optics
