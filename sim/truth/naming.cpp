// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Names for what the truth found. Criteria: a manifest deviation is a tropia, a latent one of 2 or
// more a phoria (2 is the smallest movement usually seen; Ludvigh 1949, from memory); microtropia
// is a manifest angle below 10 with a scotoma (Lang 1974; Parks 1969: up to 8); distance and near
// differ by 5 or more (optometric tables; surgical texts use 10); AC/A of 6 and more is high
// (normal 3 to 5, Borish).
#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

constexpr double kLeastPhoriaPd = 2.0;
constexpr double kMicroPd = 10.0;
constexpr double kDifferencePd = 5.0;
constexpr double kHighAcA = 6.0;

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
  const std::string kind = vertical ? (higher ? "hypertropia" : "hypotropia")
                                    : (h > 0 ? "esotropia" : "exotropia");
  const std::string constancy = intermittent ? "intermittent " : "constant ";
  return constancy + side_of_deviation(c.deviating_eye) + kind;
}

// Eyes that do not fuse and yet stand straight have no squint to name.
bool is_manifest(const Condition& c) {
  return c.manifest != Manifest::none &&
         std::max(magnitude(c.manifest_horizontal_pd), magnitude(c.manifest_vertical_pd)) >= 1.0;
}

std::string name_phoria(double h, double v) {
  if (magnitude(v) >= 1.0 && magnitude(v) > magnitude(h)) {
    return v > 0 ? "right hyperphoria" : "left hyperphoria";
  }
  if (magnitude(h) < kLeastPhoriaPd) return "";
  return h > 0 ? "esophoria" : "exophoria";
}

}  // namespace

std::string calc_diagnosis(const Truth& truth) {
  const Condition* far = find(truth, 6.0);
  const Condition* near = find(truth, 0.40);
  const Condition* beyond = find(truth, 20.0);
  if (far == nullptr || near == nullptr) return "";
  if (is_manifest(*far)) return name_tropia(truth, *far);
  if (is_manifest(*near)) return name_tropia(truth, *near) + " at near";
  if (beyond != nullptr && is_manifest(*beyond)) {
    return name_tropia(truth, *beyond) + " beyond 6 m";
  }
  const std::string at_far = name_phoria(far->horizontal_pd, far->vertical_pd);
  const std::string at_near = name_phoria(near->horizontal_pd, near->vertical_pd);
  const double change = near->horizontal_pd - far->horizontal_pd;
  if (at_near == "esophoria" && change >= kDifferencePd) {
    return truth.ac_a_gradient_pd_per_d >= kHighAcA
               ? "near esophoria with a high AC/A ratio (convergence excess)"
               : "near esophoria (convergence excess)";
  }
  if (at_far.empty()) {
    // A physiological exophoria at near is the rule: 3 with a standard deviation of 3 (Morgan).
    if (at_near.empty() || (at_near == "exophoria" && near->horizontal_pd > -6.0)) {
      return "no abnormal deviation found";
    }
    return at_near + " at near";
  }
  if (at_far == at_near && magnitude(change) < kDifferencePd) return at_far;
  if (at_near.empty()) return at_far + " at distance";
  return at_far;
}

}  // namespace redress::truth
