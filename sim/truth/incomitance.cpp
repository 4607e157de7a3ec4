// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/incomitance.hpp"

#include <algorithm>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/truth/criteria.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

constexpr double kLeastVerticalPd = 1.0;
constexpr double kStepPd = 2.0;
constexpr double kSidePd = 10.0;

// The positions that one eye can take up, straight ahead first.
struct Gazes {
  std::vector<const Position*> all;
  const Position* ahead = nullptr;
  const Position* right = nullptr;
  const Position* left = nullptr;
  const Position* tilted_right = nullptr;
  const Position* tilted_left = nullptr;

  [[nodiscard]] bool has_sides() const { return ahead && right && left; }
};

Gazes gazes_of(const Truth& truth, Eye fixing) {
  Gazes g;
  for (const Position& p : truth.gaze) {
    if (p.fixing != fixing || p.cannot_fixate) continue;
    g.all.push_back(&p);
    if (p.vertical_deg != 0.0) continue;
    (p.horizontal_deg == 0.0 ? g.ahead : p.horizontal_deg > 0.0 ? g.right : g.left) = &p;
  }
  for (const Position& p : truth.head_tilt) {
    if (p.fixing != fixing || p.cannot_fixate) continue;
    (p.roll_deg > 0.0 ? g.tilted_right : g.tilted_left) = &p;
  }
  return g;
}

double size_of(const Position& p) { return elementary::hypotenuse(p.horizontal_pd, p.vertical_pd); }

// The primary deviation is the smaller one; an eye that cannot look ahead does not fix it.
Gazes choose_gazes(const Truth& truth) {
  Gazes right = gazes_of(truth, Eye::right);
  Gazes left = gazes_of(truth, Eye::left);
  if (right.all.size() != left.all.size()) return right.all.size() > left.all.size() ? right : left;
  if (!right.ahead || !left.ahead) return right;
  const auto worst = [](const Gazes& g) {
    double most = 0.0;
    for (const Position* p : g.all) most = std::max(most, size_of(*p));
    return most;
  };
  return worst(right) < worst(left) ? right : left;
}

std::string weak(Eye eye, std::string_view muscle) {
  std::string name = std::string("as from a weak ") + name_of(eye) + " " + std::string(muscle);
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

// Empty where a step does not tell.
std::string name_by_three_steps(const Gazes& g) {
  if (!g.has_sides() || !g.tilted_right || !g.tilted_left) return "";
  const double ahead = g.ahead->vertical_pd;
  if (magnitude(ahead) < kLeastVerticalPd) return "";
  const double sign = ahead > 0.0 ? 1.0 : -1.0;
  const double gaze = sign * (g.right->vertical_pd - g.left->vertical_pd);
  const double tilt = sign * (g.tilted_right->vertical_pd - g.tilted_left->vertical_pd);
  if (magnitude(gaze) < kStepPd || magnitude(tilt) < kStepPd) return "";
  const WeakMuscle found =
      find_weak_muscle(ahead > 0.0 ? Eye::right : Eye::left, gaze > 0.0 ? Eye::right : Eye::left,
                       tilt > 0.0 ? Eye::right : Eye::left);
  return weak(found.eye, found.name);
}

std::string name_by_sides(const Gazes& g) {
  if (!g.has_sides()) return "";
  const double growth = g.right->horizontal_pd - g.left->horizontal_pd;
  if (magnitude(growth) < kSidePd) return "";
  const double most_eso = std::max(g.right->horizontal_pd, g.left->horizontal_pd);
  const double most_exo = -std::min(g.right->horizontal_pd, g.left->horizontal_pd);
  const bool towards_right = growth > 0.0;  // more eso there, or less exo
  if (most_eso >= most_exo) return weak(towards_right ? Eye::right : Eye::left, "lateral_rectus");
  return weak(towards_right ? Eye::right : Eye::left, "medial_rectus");
}

std::string name_worst_gaze(const Gazes& g) {
  const Position* worst = g.ahead;
  for (const Position* p : g.all) {
    if (worst == nullptr || size_of(*p) > size_of(*worst)) worst = p;
  }
  if (worst == nullptr || worst == g.ahead) return "incomitant";
  const std::string up = worst->vertical_deg > 0.0 ? "up" : worst->vertical_deg < 0.0 ? "down" : "";
  const std::string aside = worst->horizontal_deg > 0.0   ? "right"
                            : worst->horizontal_deg < 0.0 ? "left"
                                                          : "";
  const std::string both = up.empty() || aside.empty() ? up + aside : up + " and " + aside;
  return "largest in " + both + " gaze";
}

// Largest change from straight ahead.
double change_of(const Gazes& g, double Position::*part) {
  double most = 0.0;
  for (const Position* p : g.all) {
    if (g.ahead) most = std::max(most, magnitude(p->*part - g.ahead->*part));
  }
  return most;
}

}  // namespace

std::string name_incomitance(const Truth& truth) {
  if (truth.comitant || truth.gaze.empty()) return "";
  const Gazes g = choose_gazes(truth);
  const bool vertical =
      change_of(g, &Position::vertical_pd) > change_of(g, &Position::horizontal_pd);
  std::string name = vertical ? name_by_three_steps(g) : name_by_sides(g);
  if (name.empty()) name = vertical ? name_by_sides(g) : name_by_three_steps(g);
  return name.empty() ? name_worst_gaze(g) : name;
}

}  // namespace redress::truth
