// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/record_card.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/impression.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

// Criteria of the impression. Distance and near differ by 5 or more (optometric tables; surgical
// texts use 10); a phoria is named from 2 (Ludvigh 1949, from memory); exophoria at near of up to 6
// is within Morgan's range (1944, 3 exo with a standard deviation of 3).
constexpr double kNamedPd = 2.0;
constexpr double kDifferencePd = 4.5;
constexpr double kUsualNearExoPd = 6.0;
constexpr double kLeastVerticalPd = 1.0;
constexpr double kLittleSquintPd = 15.0;  // beside a height that neither eye's is
constexpr double kUsualNearM = 0.40;
constexpr double kPatchedPd = 7.0;  // what half an hour and more leaves hidden of a near angle

std::string side(FindingEye eye) {
  switch (eye) {
    case FindingEye::right: return "right ";
    case FindingEye::left: return "left ";
    case FindingEye::alternating: return "alternating ";
    case FindingEye::both: break;
  }
  return "";
}

// The eye whose centre does not answer the four-dioptre test.
std::optional<FindingEye> find_scotoma(const WholeFinding& e) {
  if (!e.four_dioptre) return std::nullopt;
  const bool right = e.four_dioptre->right == FourDioptreResponse::no_movement;
  const bool left = e.four_dioptre->left == FourDioptreResponse::no_movement;
  if (right == left) return std::nullopt;
  return right ? FindingEye::right : FindingEye::left;
}

// The eye that sees no target, and by how much it deviates.
std::optional<std::pair<FindingEye, double>> find_by_reflexes(const WholeFinding& e) {
  const auto size = e.reflexes_far ? e.reflexes_far : e.reflexes_near;
  if (!size || magnitude(*size) < kNamedPd) return std::nullopt;
  const bool right = e.acuity_logmar.right > e.acuity_logmar.left;
  return std::pair{right ? FindingEye::right : FindingEye::left, *size};
}

// One eye's centre does not see and nothing is out of line: old, or new with lines that bend.
Impression call_scotoma(const WholeFinding& e, FindingEye eye) {
  if (e.bent_lines) {
    return {"central scotoma of the " + side(eye) + "eye",
            "Ophthalmology within the week, for the macula.", Urgency::urgent};
  }
  return {side(eye) + "microtropia with identity",
          "Full refraction; orthoptic review of fixation and acuity.", Urgency::soon};
}

// What changes with the gaze points to a muscle, its nerve or a leash.
std::string name_incomitant(const WholeFinding& e) {
  const Around& around = *e.around;
  // The third nerve has the lid as well. An eye drawn back as it turns in, from birth, has two
  // nerves at one muscle (Duane).
  if (!e.low_lid.empty() && around.name_weak_adduction() == e.low_lid) {
    return e.low_lid + "third nerve palsy";
  }
  if (const std::string eye = around.name_weak_abduction();
      e.lifelong && !eye.empty() && around.name_narrowing() == eye) {
    return eye + "Duane syndrome";
  }
  if (around.is_reversing()) return "bilateral superior oblique palsy";
  if (!around.is_comitant() && around.is_sideways()) {
    if (const std::string eye = around.name_weak_abduction(); !eye.empty()) {
      return eye + "sixth nerve palsy";
    }
    if (const std::string eye = around.name_weak_adduction(); !eye.empty()) {
      return eye + "adduction weakness";
    }
  }
  if (const std::string eye = around.name_low_above(); !eye.empty()) {
    return "limited elevation of the " + eye + "eye";
  }
  if (const std::string muscle = around.name_weak_muscle(); !muscle.empty()) {
    return muscle + " palsy";
  }
  return "";
}

std::optional<Impression> call_incomitant(const WholeFinding& e) {
  if (!e.around) return std::nullopt;
  const std::string name = name_incomitant(e);
  if (name.empty()) return std::nullopt;
  if (e.lifelong && !e.sees_double) {
    return Impression{name, "From birth and without trouble: no treatment; review.",
                      Urgency::routine};
  }
  return Impression{name,
                    "Ocular movements in full; seen by an eye department; neurology if it is new.",
                    Urgency::soon};
}

Impression call_manifest(const WholeFinding& e, const CoverFinding& c) {
  Impression i;
  i.urgency = Urgency::soon;
  const bool vertical = magnitude(c.shown.vertical_pd) > magnitude(c.shown.horizontal_pd);
  const FindingEye eye = c.eye.value_or(FindingEye::both);
  const bool scotoma = eye == find_scotoma(e);
  if (c.constancy == Constancy::constant && c.flick && scotoma) {
    i.diagnosis = side(eye) + "microtropia";
    i.advice = "Full refraction; orthoptic review of the poorer eye's acuity.";
    return i;
  }
  if (vertical) {
    i.diagnosis = c.shown.vertical_pd > 0.0 ? "right hypertropia" : "left hypertropia";
  } else {
    const std::string kind = c.shown.horizontal_pd > 0.0 ? "esotropia" : "exotropia";
    i.diagnosis =
        c.constancy == Constancy::intermittent ? "intermittent " + kind : side(eye) + kind;
  }
  i.advice = "Refraction; orthoptist; ophthalmology.";
  return i;
}

Impression call_latent(Shown far, Shown near) {
  const double change = near.horizontal_pd - far.horizontal_pd;
  const double vertical =
      magnitude(far.vertical_pd) > magnitude(near.vertical_pd) ? far.vertical_pd : near.vertical_pd;
  if (near.horizontal_pd >= kNamedPd && change >= kDifferencePd) {
    return {"convergence excess", "Refraction; plus for near to be tried; review.", Urgency::soon};
  }
  if (magnitude(vertical) >= kLeastVerticalPd) {
    return {vertical > 0.0 ? "right hyperphoria" : "left hyperphoria",
            "Refraction; vertical prism if there are symptoms; review.", Urgency::routine};
  }
  if (far.horizontal_pd >= kNamedPd) {
    if (-change >= kDifferencePd) {
      return {"esophoria greater at distance than near", "Refraction; motility review.",
              Urgency::soon};
    }
    return {"esophoria", "Refraction, with cycloplegia; review.", Urgency::routine};
  }
  if (far.horizontal_pd <= -kNamedPd) {
    return {"exophoria", "No treatment while there is no trouble; review at the usual interval.",
            Urgency::routine};
  }
  if (near.horizontal_pd >= kNamedPd) {
    return {"near esophoria", "Refraction; review.", Urgency::routine};
  }
  if (near.horizontal_pd <= -kUsualNearExoPd) {
    return {"exophoria greater at near than distance",
            "Exercises if there is trouble, and review; else no treatment.", Urgency::routine};
  }
  return {"no abnormality found", "Nothing to be done; the usual interval.", Urgency::routine};
}

Impression call_by_reflexes(FindingEye eye, double horizontal_pd) {
  const std::string kind = horizontal_pd > 0.0 ? "esotropia" : "exotropia";
  return {side(eye) + "sensory " + kind, "Explained; surgery for the looks if it is wanted.",
          Urgency::routine};
}

Impression call_carried(const DistanceFinding& bare) {
  const Shown without = measured(bare);
  const std::string kind = without.horizontal_pd > 0.0 ? "esophoria" : "exophoria";
  return {kind + " corrected by prism", "The same prism again; review at the usual interval.",
          Urgency::routine};
}

// Whether near came up to distance behind a patch tells what had made it small.
Impression call_patched(const WholeFinding& e) {
  const double far = e.far->cover.alternating.horizontal_pd;
  const bool held = *e.near_after_patch_pd - far < kPatchedPd;
  return {held ? "simulated divergence excess" : "true divergence excess",
          held ? "Orthoptic assessment of the angle after a patch."
               : "Orthoptic assessment; plus lenses at near to tell how much the AC/A holds.",
          Urgency::soon};
}

Impression call_deviation(const WholeFinding& e) {
  if (e.tires) {
    return {"ocular myasthenia", "Neurology; asked for swallowing and breathing.", Urgency::soon};
  }
  // Lines that bend and one eye that reads less: the macula, whatever four prism dioptres show.
  constexpr double kUnequalLogmar = 0.15;
  const double poorer = e.acuity_logmar.right - e.acuity_logmar.left;
  if (e.bent_lines && magnitude(poorer) >= kUnequalLogmar) {
    return call_scotoma(e, poorer > 0.0 ? FindingEye::right : FindingEye::left);
  }
  if (e.near_reflex) {
    return {"spasm of the near reflex", "Refraction with cycloplegia; abduction of each eye alone.",
            Urgency::soon};
  }
  if (const auto seen = find_by_reflexes(e)) return call_by_reflexes(seen->first, seen->second);
  if (e.bare && magnitude(measured(*e.bare).horizontal_pd) >= kNamedPd)
    return call_carried(*e.bare);
  if (e.dissociated && e.far && magnitude(measured(*e.far).horizontal_pd) < kLittleSquintPd) {
    return {"dissociated vertical deviation", "Orthoptist; review.", Urgency::soon};
  }
  if (const auto by_lenses = call_by_lenses(e)) return *by_lenses;
  if (const auto incomitant = call_incomitant(e)) return *incomitant;
  if (e.near_after_patch_pd) return call_patched(e);
  for (const auto* d : {&e.far, &e.near, &e.beyond}) {
    if (!*d || (*d)->cover.kind != FindingKind::tropia) continue;
    const Impression i = call_manifest(e, (*d)->cover);
    return call_by_glasses(e).value_or(i);
  }
  if (const auto eye = find_scotoma(e)) return call_scotoma(e, *eye);
  const Shown far = e.far ? measured(*e.far) : Shown{};
  Impression i = call_latent(far, e.near ? measured(*e.near) : far);
  if (const auto by_glasses = call_by_glasses(e)) i = *by_glasses;
  if (e.has_trouble || e.sees_double) i.urgency = std::min(i.urgency, Urgency::soon);
  return call_by_reserves(e, i);
}

Impression call(const WholeFinding& e) {
  Impression i = call_deviation(e);
  if (const auto by_story = call_by_story(e, i)) i = *by_story;
  if (e.presbyope && e.owns_glasses) i.advice += " Reading glasses looked after.";
  return hasten(e, i);
}

double rounded_half(double pd) {
  const double halves = 2.0 * magnitude(pd) + 0.5;
  const double value = 0.5 * static_cast<double>(static_cast<int>(halves));
  return pd < 0.0 ? -value : value;
}

Finding write_cover(const CoverFinding& c, bool spectacles) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = c.distance_m;
  f.spectacles = spectacles;
  f.kind = c.kind;
  if (c.kind == FindingKind::tropia) f.constancy = c.constancy;
  f.eye = c.eye;
  f.horizontal_pd = rounded_half(c.shown.horizontal_pd);
  f.vertical_pd = rounded_half(c.shown.vertical_pd);
  f.method = SizeMethod::estimated;
  f.recovery = c.recovery;
  return f;
}

// What covers could not show, by prism and reflexes.
void add_by_reflexes(std::vector<Finding>& card, const WholeFinding& e, const DistanceFinding& d,
                     double horizontal_pd) {
  Finding f = write_cover(d.cover, d.spectacles);
  f.kind = FindingKind::tropia;
  f.constancy = Constancy::constant;
  f.eye = find_by_reflexes(e)->first;
  f.horizontal_pd = horizontal_pd;
  f.vertical_pd = 0.0;
  f.method = SizeMethod::krimsky;
  f.recovery.reset();
  card.push_back(f);
  f.test = FindingTest::reflexes;
  card.push_back(f);
}

void add(std::vector<Finding>& card, const DistanceFinding& d) {
  card.push_back(write_cover(d.cover, d.spectacles));
  if (d.lens_d != 0.0) card.back().remark = fmt::format("trial lenses {:+.2f} D", d.lens_d);
  if (!d.prism || (!d.prism->horizontal_pd && !d.prism->vertical_pd)) return;
  Finding f = card.back();
  f.test = FindingTest::prism_cover;
  f.method = SizeMethod::measured;
  f.horizontal_pd = d.prism->horizontal_pd.value_or(0.0);
  f.vertical_pd = d.prism->vertical_pd.value_or(0.0);
  f.recovery.reset();
  card.push_back(f);
}

Finding begin(FindingTest test, const WholeFinding& e, double distance_m) {
  Finding f;
  f.test = test;
  f.distance_m = distance_m;
  const bool near = e.near && distance_m < 1.0;
  f.spectacles = near ? e.near->spectacles : e.far && e.far->spectacles;
  return f;
}

double near_of(const WholeFinding& e) { return e.near ? e.near->cover.distance_m : kUsualNearM; }

void add_reserve(std::vector<Finding>& card, const WholeFinding& e,
                 const std::optional<ReserveReading>& reserve, const char* base) {
  if (!reserve || !reserve->break_pd) return;
  Finding f = begin(FindingTest::reserves, e, near_of(e));
  f.base = base;
  f.break_value = reserve->break_pd;
  f.recovery_value = reserve->recovery_pd;
  card.push_back(f);
}

void add_further(std::vector<Finding>& card, const WholeFinding& e) {
  if (e.near_point && e.near_point->break_cm) {
    Finding f;
    f.test = FindingTest::near_point;
    f.spectacles = e.near && e.near->spectacles;
    f.break_value = e.near_point->break_cm;
    f.recovery_value = e.near_point->recovery_cm;
    card.push_back(f);
  }
  add_reserve(card, e, e.base_out, "out");
  add_reserve(card, e, e.base_in, "in");
  if (e.ac_a_pd_per_d) {
    Finding f = begin(FindingTest::ac_a, e, near_of(e));
    f.ac_a_pd_per_d = e.ac_a_pd_per_d;
    card.push_back(f);
  }
  const auto add_control = [&](const std::optional<int>& control, double distance_m) {
    if (!control) return;
    Finding f = begin(FindingTest::control, e, distance_m);
    f.control = *control;
    card.push_back(f);
  };
  add_control(e.control_far, 6.0);
  add_control(e.control_near, kControlNearM);
}

void add_positions(std::vector<Finding>& card, const WholeFinding& e) {
  if (!e.around) return;
  const Around& a = *e.around;
  const auto add = [&](double horizontal_deg, double vertical_deg, double roll_deg, Shown shown) {
    Finding f = begin(FindingTest::gaze, e, 6.0);
    f.gaze_horizontal_deg = horizontal_deg;
    f.gaze_vertical_deg = vertical_deg;
    f.head_roll_deg = roll_deg;
    f.horizontal_pd = rounded_half(shown.horizontal_pd);
    f.vertical_pd = rounded_half(shown.vertical_pd);
    f.method = SizeMethod::estimated;
    card.push_back(f);
  };
  add(kGazeDeg, 0, 0, a.right);
  add(-kGazeDeg, 0, 0, a.left);
  add(0, kGazeDeg, 0, a.up);
  add(0, -kGazeDeg, 0, a.down);
  add(0, 0, kTiltDeg, a.tilt_right);
  add(0, 0, -kTiltDeg, a.tilt_left);
}

}  // namespace

PerEye<double> read_acuity(const std::string& on_file) {
  const auto number_after = [&](std::string_view word) {
    const std::size_t at = on_file.find(word);
    if (at == std::string::npos) return 0.0;
    std::size_t i = at + word.size();
    while (i < on_file.size() && on_file[i] == ' ') ++i;
    double sign = 1.0;
    if (i < on_file.size() && (on_file[i] == '-' || on_file[i] == '+')) {
      sign = on_file[i] == '-' ? -1.0 : 1.0;
      ++i;
    }
    double value = 0.0;
    double unit = 1.0;
    bool after_point = false;
    for (; i < on_file.size(); ++i) {
      const char c = on_file[i];
      if (c == '.' && !after_point) {
        after_point = true;
      } else if (c >= '0' && c <= '9') {
        value = value * 10.0 + static_cast<double>(c - '0');
        if (after_point) unit *= 10.0;
      } else {
        break;
      }
    }
    return sign * value / unit;
  };
  return {number_after("right"), number_after("left")};
}

std::vector<Finding> write_card(const WholeFinding& e) {
  std::vector<Finding> card;
  const auto write = [&](const std::optional<DistanceFinding>& d, std::optional<double> reflexes) {
    if (!d) return;
    if (reflexes && find_by_reflexes(e)) {
      add_by_reflexes(card, e, *d, *reflexes);
    } else {
      add(card, *d);
    }
  };
  write(e.far, e.reflexes_far);
  write(e.near, e.reflexes_near);
  if (e.bare) add(card, *e.bare);
  if (e.beyond) add(card, *e.beyond);
  if (!card.empty() && e.dissociated) card.front().dvd = true;
  if (!card.empty() && e.beats) card.front().nystagmus = true;
  if (e.around && !card.empty()) card.front().comitant = e.around->is_comitant();
  if (e.four_dioptre) {
    for (const Eye eye : kBothEyes) {
      Finding f;
      f.test = FindingTest::four_dioptre;
      f.distance_m = e.far ? e.far->cover.distance_m : 6.0;
      f.spectacles = e.far && e.far->spectacles;
      f.eye = eye == Eye::right ? FindingEye::right : FindingEye::left;
      f.response = (*e.four_dioptre)[eye];
      card.push_back(f);
    }
  }
  add_further(card, e);
  add_positions(card, e);
  if (e.without) add(card, *e.without);
  const Impression i = call(e);
  Finding impression;
  impression.test = FindingTest::impression;
  impression.diagnosis = i.diagnosis;
  card.push_back(impression);
  Finding plan;
  plan.test = FindingTest::plan;
  plan.advice = i.advice;
  plan.urgency = i.urgency;
  if (sees_two(e) && e.may_drive) plan.driving = Driving::not_until_controlled;
  card.push_back(plan);
  return card;
}

}  // namespace redress::examiners
