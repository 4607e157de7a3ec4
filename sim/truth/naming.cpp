// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Names for what the truth found. Criteria: a manifest deviation is a tropia, a latent one of 2 or
// more a phoria (2 is the smallest movement usually seen; Ludvigh 1949, from memory); microtropia
// is a manifest angle below 10 with a scotoma (Lang 1974; Parks 1969: up to 8); distance and near
// differ by 5 or more (optometric tables; surgical texts use 10); AC/A of 6 and more is high
// (normal 3 to 5, Borish). Insufficiencies: Convergence Insufficiency Treatment Trial (CITT) and
// Scheiman & Wick 2014; their signs are looked at where the truth was asked for them.
#include <algorithm>
#include <cstdint>
#include <string>

#include "sim/basics/elementary.hpp"
#include "sim/truth/incomitance.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

constexpr const char* kNone = "no abnormal deviation found";
constexpr double kLeastPhoriaPd = 2.0;
constexpr double kMicroPd = 10.0;
constexpr double kDifferencePd = 5.0;
constexpr double kHighAcA = 6.0;
// CITT: exophoria at near at least 4 more than at distance.
constexpr double kInsufficiencyPd = 4.0;
constexpr double kLeastNearExoPd = 6.0;
constexpr double kFarNearPointCm = 6.0;
constexpr double kLowBaseOutPd = 15.0;
constexpr double kLowBaseInPd = 7.0;  // base in at distance (Scheiman & Wick 2014)
constexpr double kBurianPd = 10.0;
constexpr double kLeastVerticalPd = 1.0;

// The correction as habitually worn stands first for each distance.
const Condition* find(const Truth& truth, double distance_m) {
  const auto it =
      std::find_if(truth.conditions.begin(), truth.conditions.end(),
                   [&](const Condition& c) { return magnitude(c.distance_m - distance_m) < 1e-9; });
  return it == truth.conditions.end() ? nullptr : &*it;
}

std::string side_of_deviation(DeviatingEye eye) {
  switch (eye) {
    case DeviatingEye::right: return "right ";
    case DeviatingEye::left: return "left ";
    case DeviatingEye::alternating: return "alternating ";
    case DeviatingEye::none: break;
  }
  return "";
}

std::string name_tropia(const Truth& truth, const Condition& c) {
  const double h = c.manifest_horizontal_pd;
  const double v = c.manifest_vertical_pd;
  const bool vertical = magnitude(v) > magnitude(h);
  const bool intermittent = c.manifest == Manifest::intermittent;
  const bool small = std::max(magnitude(h), magnitude(v)) < kMicroPd;
  if (!intermittent && small && truth.suppression_eye != WhichEyes::none && !vertical) {
    return side_of_deviation(c.deviating_eye) + "microtropia";
  }
  // The deviating eye stands higher or lower than its fellow.
  const bool higher = (v > 0) == (c.deviating_eye != DeviatingEye::left);
  const std::string kind =
      vertical ? (higher ? "hypertropia" : "hypotropia") : (h > 0 ? "esotropia" : "exotropia");
  const std::string constancy = intermittent ? "intermittent " : "constant ";
  return constancy + side_of_deviation(c.deviating_eye) + kind;
}

// Eyes that do not fuse and yet stand straight have no squint to name.
bool is_manifest(const Condition& c) {
  return c.manifest != Manifest::none &&
         std::max(magnitude(c.manifest_horizontal_pd), magnitude(c.manifest_vertical_pd)) >= 1.0;
}

enum class Horizontal : std::uint8_t { none, eso, exo };

Horizontal kind_of(double pd) {
  if (magnitude(pd) < kLeastPhoriaPd) return Horizontal::none;
  return pd > 0 ? Horizontal::eso : Horizontal::exo;
}

std::string name(Horizontal kind) { return kind == Horizontal::eso ? "esophoria" : "exophoria"; }

const ReservesAt* find_reserves(const Truth& truth, double distance_m) {
  for (const ReservesAt& r : truth.reserves) {
    if (magnitude(r.distance_m - distance_m) < 1e-9) return &r;
  }
  return nullptr;
}

// CITT: a near exophoria is an insufficiency if the near point is 6 cm or further, or if base out
// at near breaks by 15 or fails Sheard's rule (less than twice the phoria).
bool is_convergence_insufficient(const Truth& truth, double near_pd) {
  if (truth.near_point_break_cm && *truth.near_point_break_cm >= kFarNearPointCm) return true;
  const ReservesAt* near = find_reserves(truth, 0.40);
  if (near == nullptr || !near->base_out.break_pd) return false;
  const double reserve = near->base_out.blur_pd.value_or(*near->base_out.break_pd);
  return *near->base_out.break_pd <= kLowBaseOutPd || reserve < 2.0 * magnitude(near_pd);
}

bool is_divergence_insufficient(const Truth& truth) {
  const ReservesAt* far = find_reserves(truth, 6.0);
  return far != nullptr && far->base_in.break_pd && *far->base_in.break_pd < kLowBaseInPd;
}

// Empty where there is nothing to name. A physiological exophoria at near is the rule: 3 with a
// standard deviation of 3 (Morgan).
std::string name_horizontal_phoria(const Truth& truth, double far_pd, double near_pd) {
  const Horizontal far = kind_of(far_pd);
  const Horizontal near = kind_of(near_pd);
  const double change = near_pd - far_pd;
  if (near == Horizontal::eso && change >= kDifferencePd) {
    return truth.ac_a_gradient_pd_per_d >= kHighAcA
               ? "near esophoria with a high AC/A ratio (convergence excess)"
               : "near esophoria (convergence excess)";
  }
  if (near == Horizontal::exo && near_pd <= -kLeastNearExoPd && change <= -kInsufficiencyPd &&
      far != Horizontal::eso) {
    const std::string words =
        far == Horizontal::none ? "exophoria at near" : "exophoria greater at near";
    return is_convergence_insufficient(truth, near_pd) ? words + " (convergence insufficiency)"
                                                       : words;
  }
  if (far == Horizontal::none) {
    const bool usual = near == Horizontal::exo && near_pd > -kLeastNearExoPd;
    return near == Horizontal::none || usual ? "" : name(near) + " at near";
  }
  if (near == Horizontal::none) return name(far) + " at distance";
  if (far != near) return name(far) + " at distance, " + name(near) + " at near";
  if (far == Horizontal::exo && change >= kDifferencePd) {
    return "exophoria greater at distance (divergence excess)";
  }
  if (far == Horizontal::eso && change <= -kDifferencePd) {
    return is_divergence_insufficient(truth)
               ? "esophoria greater at distance (divergence insufficiency)"
               : "esophoria greater at distance";
  }
  return name(far);
}

std::string name_vertical_phoria(double pd) {
  if (magnitude(pd) < kLeastVerticalPd) return "";
  return pd > 0 ? "right hyperphoria" : "left hyperphoria";
}

// Whichever eye does not fix stands higher: with either eye fixing the sign changes, or there is
// nothing, where a hyperphoria keeps its sign. Neither an eye's number nor its muscles would do so.
std::string name_dissociated_vertical(const Truth& truth, double distance_m) {
  const Condition* first = find(truth, distance_m);
  if (first == nullptr) return "";
  PerEye<double> rises{};
  PerEye<bool> known{};
  for (const Condition& c : truth.conditions) {
    if (magnitude(c.distance_m - distance_m) > 1e-9 || c.spectacles != first->spectacles) continue;
    rises[fellow(c.fixing)] = c.fixing == Eye::right ? -c.vertical_pd : c.vertical_pd;
    known[fellow(c.fixing)] = true;
  }
  if (!known.right || !known.left) return "";
  const double less = std::min(rises.right, rises.left);
  const double more = std::max(rises.right, rises.left);
  if (more < kLeastPhoriaPd || less < -0.5) return "";
  const std::string name = "dissociated vertical deviation";
  if (less >= kLeastPhoriaPd) return name;
  return name + " of the " + (rises.right > rises.left ? "right" : "left") + " eye";
}

// The types of Burian: distance and near apart by 10 or more (from memory).
std::string type_of_tropia(const Condition& far, const Condition& near) {
  const double change = near.horizontal_pd - far.horizontal_pd;
  if (magnitude(far.manifest_vertical_pd) > magnitude(far.manifest_horizontal_pd)) return "";
  if (far.manifest_horizontal_pd < 0.0 && change >= kBurianPd) return ", greater at distance";
  if (far.manifest_horizontal_pd < 0.0 && change <= -kBurianPd) return ", greater at near";
  if (far.manifest_horizontal_pd > 0.0 && change >= kBurianPd) return ", greater at near";
  return "";
}

std::string name_deviation(const Truth& truth) {
  const Condition* far = find(truth, 6.0);
  const Condition* near = find(truth, 0.40);
  const Condition* beyond = find(truth, 20.0);
  if (far == nullptr || near == nullptr) return "";
  if (is_manifest(*far)) return name_tropia(truth, *far) + type_of_tropia(*far, *near);
  if (is_manifest(*near)) return name_tropia(truth, *near) + " at near";
  if (beyond != nullptr && is_manifest(*beyond)) {
    return name_tropia(truth, *beyond) + " beyond 6 m";
  }
  const std::string horizontal =
      name_horizontal_phoria(truth, far->horizontal_pd, near->horizontal_pd);
  std::string vertical = name_dissociated_vertical(truth, far->distance_m);
  if (vertical.empty()) vertical = name_vertical_phoria(far->vertical_pd);
  if (horizontal.empty() && vertical.empty()) return kNone;
  if (horizontal.empty() || vertical.empty()) return horizontal + vertical;
  return magnitude(far->vertical_pd) > magnitude(far->horizontal_pd)
             ? vertical + " with " + horizontal
             : horizontal + " with " + vertical;
}

}  // namespace

std::string calc_diagnosis(const Truth& truth) {
  const std::string deviation = name_deviation(truth);
  const std::string pattern = name_incomitance(truth);
  if (pattern.empty()) return deviation;
  return (deviation == kNone ? "no deviation straight ahead" : deviation) + ", " + pattern;
}

}  // namespace redress::truth
