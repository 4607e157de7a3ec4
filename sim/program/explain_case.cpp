// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/explain_case.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/cases/proximal.hpp"
#include "sim/patient/poor_sight.hpp"
#include "sim/truth/criteria.hpp"

namespace redress::program {

namespace {

using elementary::magnitude;
using truth::Condition;
using truth::Manifest;

constexpr double kLargestLetterLogmar = 1.0;  // 6/60, the top of a usual chart: common practice
constexpr double kLeastProximalPd = 0.0;      // as `validate` warns
constexpr double kMostProximalPd = 8.0;
constexpr double kSeenHorizontalPd = 2.0;

bool has(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

const Condition* find(const truth::Truth& found, double distance_m, Eye fixing) {
  for (const Condition& c : found.conditions) {
    if (magnitude(c.distance_m - distance_m) < 1e-9 && c.fixing == fixing) return &c;
  }
  return nullptr;
}

std::string_view word(Manifest manifest) {
  switch (manifest) {
    case Manifest::none: return "held";
    case Manifest::intermittent: return "intermittent";
    case Manifest::constant: break;
  }
  return "constant";
}

/// One decimal; what rounds to nothing is +0.0.
double rounded(double pd) { return pd > -0.05 && pd < 0.05 ? 0.0 : pd; }

std::string label(std::optional<double> pd) {
  return pd ? fmt::format("{:+.1f}", rounded(*pd)) : std::string{"none"};
}

std::string row(const Condition& c) {
  const std::string_view correction = c.spectacles ? "with" : "without";
  if (c.cannot_fixate) {
    return fmt::format("  {:>5.2f} m  {:<8}  {:<5}  this eye does not reach the target\n",
                       c.distance_m, correction, name_of(c.fixing));
  }
  return fmt::format("  {:>5.2f} m  {:<8}  {:<5}  {:+7.1f}  {:+7.1f}   {:>6}  {:>6}   {}\n",
                     c.distance_m, correction, name_of(c.fixing), rounded(c.horizontal_pd),
                     rounded(c.vertical_pd), label(c.neutralising_horizontal_pd),
                     label(c.neutralising_vertical_pd), word(c.manifest));
}

// ----------------------------------------------------------------------- what does not agree

/// The ways in which a wording says that the eyes deviate.
struct Ways {
  bool eso = false;
  bool exo = false;
  bool vertical = false;
  [[nodiscard]] bool any() const { return eso || exo || vertical; }
};

void add_ways(std::string_view text, Ways& ways) {
  ways.eso = ways.eso || has(text, "eso") || has(text, "convergence excess") ||
             has(text, "divergence insufficiency");
  ways.exo = ways.exo || has(text, "exo") || has(text, "convergence insufficiency") ||
             has(text, "divergence excess");
  ways.vertical = ways.vertical || has(text, "hyper") || has(text, "hypo") || has(text, "vertical");
}

Ways expected_ways(const CaseExpected& expected) {
  Ways ways;
  add_ways(expected.diagnosis, ways);
  for (const std::string& text : expected.accepted_diagnoses) add_ways(text, ways);
  return ways;
}

void compare_names(const Case& c, const truth::Truth& found, std::vector<std::string>& out) {
  const CaseExpected& expected = c.expected;
  if (expected.diagnosis.empty()) return;
  const Ways wanted = expected_ways(expected);
  Ways there;
  add_ways(found.diagnosis, there);
  const bool agrees =
      (wanted.eso && there.eso) || (wanted.exo && there.exo) || (wanted.vertical && there.vertical);
  if (!agrees && wanted.any() && there.any()) {
    out.push_back(fmt::format("expected is \"{}\", and the findings come to \"{}\"",
                              expected.diagnosis, found.diagnosis));
  } else if (wanted.any() && !there.any() && !has(expected.diagnosis, "no ")) {
    const bool accepts_none =
        std::any_of(expected.accepted_diagnoses.begin(), expected.accepted_diagnoses.end(),
                    [](const std::string& text) { return has(text, "no ") || text == "normal"; });
    if (!accepts_none) {
      out.push_back(
          fmt::format("expected is \"{}\", and no deviation is found", expected.diagnosis));
    }
  } else if (there.any() && has(expected.diagnosis, "no deviation")) {
    out.push_back(fmt::format("expected is \"{}\", and the findings come to \"{}\"",
                              expected.diagnosis, found.diagnosis));
  }
}

// A squint of the one eye where the other is meant. Of heights either eye may be named.
void compare_sides(const Case& c, const truth::Truth& found, std::vector<std::string>& out) {
  for (const auto& [said, other] : {std::pair{"right ", "left "}, {"left ", "right "}}) {
    for (const std::string_view kind : {"esotropia", "exotropia"}) {
      const std::string meant = said + std::string{kind};
      if (has(c.expected.diagnosis, meant) && has(found.diagnosis, other + std::string{kind})) {
        out.push_back(
            fmt::format("expected is \"{}\", and it is the other eye that deviates: \"{}\"",
                        c.expected.diagnosis, found.diagnosis));
      }
    }
  }
}

void check_acuity(const Case& c, std::vector<std::string>& out) {
  for (const Eye eye : kBothEyes) {
    const double acuity = c.refraction[eye].acuity_logmar;
    if (acuity >= patient::kNoFormLogmar) {
      out.push_back(fmt::format(
          "the {} eye (logMAR {:.2f}) makes out no target: it never takes up fixation, and its "
          "deviation cannot be measured by a cover",
          name_of(eye), acuity));
    } else if (acuity > kLargestLetterLogmar) {
      out.push_back(fmt::format(
          "the {} eye (logMAR {:.2f}) reads no letter of a chart that ends at {:.1f}: only a "
          "larger picture moves it",
          name_of(eye), acuity, kLargestLetterLogmar));
    }
  }
}

void check_proximal(const Case& c, std::vector<std::string>& out) {
  const double proximal = proximal_pd_at_40cm(c);
  if (proximal >= kLeastProximalPd && proximal <= kMostProximalPd) return;
  out.push_back(fmt::format(
      "distance {:+.1f}, near {:+.1f} and AC/A {:.1f} leave {:+.1f} of proximal vergence at 40 cm; "
      "usual are {:.0f} to {:.0f}: {}",
      c.deviation.distance.value, c.deviation.near.value, c.deviation.ac_a_pd_per_d, proximal,
      kLeastProximalPd, kMostProximalPd,
      proximal < kLeastProximalPd ? "the AC/A is too high for so small a gain at near"
                                  : "the AC/A is too low for so large a gain at near"));
}

// Exo: the base-out reserve is twice the deviation (Sheard). Eso: the base-in recovery is as much
// as the deviation (1:1). Both from the straight position, at blur if there is one.
/// A reserve beside what a rule asks of it.
struct Held {
  std::string_view reserve;
  double is_pd;
  std::string_view rule;
  double wanted_pd;
};

double blur_of(const CaseReserve& r) { return r.blur.value_or(r.break_point).value; }

// Sheard: twice the deviation, of the reserve that holds it. One to one (Saladin): the recovery as
// much as the deviation. Percival: the lesser reserve half the greater, whatever the deviation. All
// from memory.
std::optional<Held> hold_against(ReserveCriterion criterion, const CaseReserves& r, double h) {
  const bool exo = h < 0.0;
  if (criterion == ReserveCriterion::percival) {
    const double out = blur_of(r.base_out);
    const double in = blur_of(r.base_in);
    return Held{out < in ? "base-out" : "base-in", std::min(out, in),
                "Percival's rule (half of the other one)", 0.5 * std::max(out, in)};
  }
  if (magnitude(h) < kSeenHorizontalPd) return std::nullopt;
  const bool sheard =
      criterion == ReserveCriterion::sheard || (criterion == ReserveCriterion::usual && exo);
  const CaseReserve& holding = exo ? r.base_out : r.base_in;
  if (sheard) {
    return Held{exo ? "base-out" : "base-in", blur_of(holding),
                "Sheard's rule (twice the deviation)", 2.0 * magnitude(h)};
  }
  return Held{exo ? "base-out recovery" : "base-in recovery", holding.recovery.value,
              "the 1:1 rule", magnitude(h)};
}

void check_reserves(const Case& c, const truth::Truth& found, std::vector<std::string>& out) {
  const auto says = [&](std::string_view part) { return has(c.expected.diagnosis, part); };
  const bool said_good = says("ompensated") && !says("ecompensat");
  const bool said_poor = says("ecompensat") || says("nsufficiency");
  bool meets_all = true;
  for (const double distance_m : {6.0, 0.40}) {
    const Condition* there = find(found, distance_m, Eye::right);
    if (there == nullptr || there->manifest != Manifest::none) return;
    const CaseReserves& r = distance_m > 1.0 ? c.fusion.distance : c.fusion.near;
    const auto held = hold_against(c.expected.reserve_criterion, r, there->horizontal_pd);
    if (!held || held->is_pd >= held->wanted_pd) continue;
    meets_all = false;
    if (said_poor) continue;
    out.push_back(fmt::format(
        "at {} the {} reserve is {:.0f}, and {} asks for {:.0f}: this patient should have "
        "trouble, or expected should say so",
        distance_m > 1.0 ? "6 m" : "40 cm", held->reserve, held->is_pd, held->rule,
        held->wanted_pd));
  }
  if (said_poor && !said_good && meets_all) {
    out.push_back(fmt::format("expected is \"{}\", and the reserves meet their rule near and far",
                              c.expected.diagnosis));
  }
}

}  // namespace

std::vector<std::string> find_disagreements(const Case& c, const truth::Truth& found) {
  std::vector<std::string> out;
  compare_names(c, found, out);
  compare_sides(c, found, out);
  check_acuity(c, out);
  check_proximal(c, out);
  check_reserves(c, found, out);
  return out;
}

std::string explain_findings(const Case& c, const truth::Truth& found) {
  std::string out =
      "\nWhat the engine finds (noise off; prism dioptres, eso +, right eye higher +)\n"
      "  distance  glasses   fixes  across   height    prism that neutralises   control\n";
  for (const Condition& condition : found.conditions) out += row(condition);
  out += fmt::format("  These findings are called: {}.\n", found.diagnosis);
  out += found.comitant
             ? fmt::format("  Comitant: no gaze differs by more than {:.1f}.\n",
                           found.largest_change_pd)
             : fmt::format("  Incomitant: the largest change from straight ahead is {:.1f}.\n",
                           found.largest_change_pd);
  if (found.control_distance || found.control_near) {
    const auto score = [](std::optional<int> s) { return s ? std::to_string(*s) : "none"; };
    out += fmt::format("  Office control score: distance {}, near {} (0 best, 5 worst).\n",
                       score(found.control_distance), score(found.control_near));
  }
  if (found.near_point_break_cm) {
    out += fmt::format("  Near point of convergence: breaks at {:.1f} cm.\n",
                       *found.near_point_break_cm);
  }
  out += fmt::format("  Proximal vergence at 40 cm: {:+.1f}.\n", proximal_pd_at_40cm(c));
  const std::vector<std::string> disagreements = find_disagreements(c, found);
  out += disagreements.empty() ? "What does not agree: nothing.\n" : "What does not agree:\n";
  for (const std::string& line : disagreements) out += "  - " + line + ".\n";
  return out;
}

}  // namespace redress::program
