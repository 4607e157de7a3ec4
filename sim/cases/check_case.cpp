// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The meaning of a case: contradictions, what cannot be solved, what is not simulated yet. Types
// and ranges have been checked while reading (read_case.cpp).
#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/case_words.hpp"
#include "sim/cases/instability.hpp"
#include "sim/cases/made_muscles.hpp"
#include "sim/cases/muscle_setup.hpp"
#include "sim/cases/proximal.hpp"
#include "sim/cases/spectacles.hpp"
#include "sim/cases/teaching.hpp"

namespace redress {
namespace {

// Proximal vergence at 40 cm in prism dioptres. Morgan's means give about 3, ordinary cases 0 to 8.
// Outside the first range a warning, outside the second no patient: judgement.
constexpr double kLeastUsualProximal = 0.0;
constexpr double kMostUsualProximal = 8.0;
constexpr double kLeastProximal = -5.0;
constexpr double kMostProximal = 25.0;

// The questions that the patient's eyes answer (sim/room): a case cannot answer them otherwise.
constexpr std::array<std::string_view, 6> kAnsweredByTheEyes{
    "single_or_double", "clear", "jump", "which_eye_removes_it", "arrangement", "where_worst"};

class Checker {
 public:
  Checker(const Case& the_case, Problems* warnings, const patient::Muscles& made)
      : case_(the_case), warnings_(warnings), made_(made) {}

  Problems check() {
    check_muscles();
    check_spectacles(case_, problems_);
    check_distances();
    check_tonus();
    check_spasm();
    check_reserves("/fusion/distance", case_.fusion.distance);
    check_reserves("/fusion/near", case_.fusion.near);
    if (case_.fusion.far_distance) {
      check_reserves("/fusion/far_distance", *case_.fusion.far_distance);
    }
    check_vertical();
    check_sensory();
    check_patient();
    check_instability(case_, problems_);
    check_teaching(case_, problems_);
    return std::move(problems_);
  }

 private:
  void refuse(std::string place, std::string message) {
    problems_.push_back({std::move(place), std::move(message)});
  }
  void warn(std::string place, std::string message) {
    if (warnings_ != nullptr) warnings_->push_back({std::move(place), std::move(message)});
  }

  // What finds no rest anywhere that the eyes may be sent is no patient. Reading looks at every
  // tenth degree; `validate`, at every command that is solved when the case is examined.
  void check_muscles() {
    const patient::Muscles* thorough = warnings_ != nullptr ? &made_ : nullptr;
    for (const Eye eye : kBothEyes) {
      for (const bool tired : {false, true}) {
        if (tired && case_.fatigability[eye] == 0.0) continue;
        const auto restless = find_restless(case_, eye, tired, thorough);
        if (!restless) continue;
        refuse(std::string("/muscles/") + name_of(eye),
               "find no rest when the eye is sent " + to_text(restless->horizontal) +
                   " degrees outwards and " + to_text(restless->vertical) +
                   " up: the muscles tear at each other; allowed: milder values");
        break;
      }
    }
  }

  void check_distances() {
    constexpr double kSame_per_m = 1e-6;
    const auto& points = case_.deviation.by_distance;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double distance = points[i].first.value;
      const auto is_same = [&](double other) {
        return elementary::magnitude(1.0 / distance - 1.0 / other) < kSame_per_m;
      };
      const std::string place = "/deviation/by_distance_pd/" + std::to_string(i);
      const std::string found = "is for " + to_text(distance) + " m";
      const std::string others = " gives; allowed: other distances";
      if (is_same(6.0)) refuse(place, found + ", which distance_pd" + others);
      if (is_same(0.4)) refuse(place, found + ", which near_pd" + others);
      for (std::size_t j = 0; j < i; ++j) {
        if (!is_same(points[j].first.value)) continue;
        refuse(place, found + ", given before; allowed: each distance once");
        break;
      }
    }
  }

  void check_tonus() {
    const double proximal = proximal_pd_at_40cm(case_);
    // Two decimals are plenty for a message.
    const auto hundredths = static_cast<long>(proximal * 100.0 + (proximal < 0 ? -0.5 : 0.5));
    const std::string found = "distance, near, AC/A, pupils and age leave a proximal vergence of " +
                              to_text(static_cast<double>(hundredths) / 100.0) +
                              " prism dioptres at 40 cm; ";
    if (proximal < kLeastProximal || proximal > kMostProximal) {
      refuse("/deviation", found + "allowed: -5 to 25");
    } else if (proximal < kLeastUsualProximal || proximal > kMostUsualProximal) {
      warn("/deviation", found + "usual: 0 to 8");
    }
  }

  void check_spasm() {
    const double most = calc_response_limit_d(case_.patient.age_years);
    if (case_.accommodation.spasm.value <= most) return;
    refuse("/accommodation/spasm_d", "is " + to_text(case_.accommodation.spasm.value) +
                                         ", more than accommodation reaches at this age; "
                                         "allowed: at most " +
                                         to_text(most));
  }

  void check_reserve(const std::string& place, const CaseReserve& reserve) {
    const std::string limit = to_text(reserve.break_point.value);
    if (reserve.recovery > reserve.break_point) {
      refuse(place + "/2", "recovery " + to_text(reserve.recovery.value) +
                               " is above the break; allowed: at most " + limit);
    }
    if (reserve.blur && *reserve.blur > reserve.break_point) {
      refuse(place + "/0", "blur " + to_text(reserve.blur->value) +
                               " is above the break; allowed: null or at most " + limit);
    }
  }

  void check_reserves(const std::string& place, const CaseReserves& reserves) {
    check_reserve(place + "/base_out_pd", reserves.base_out);
    check_reserve(place + "/base_in_pd", reserves.base_in);
    // From the straight position fusion reaches from -base_in to +base_out.
    const double width = reserves.base_out.break_point.value + reserves.base_in.break_point.value;
    if (width < 0.0) {
      refuse(place, "the breaks base-out and base-in add up to " + to_text(width) +
                        ": no position in which the patient could fuse; allowed: 0 or more");
    }
  }

  void check_vertical() {
    const auto check_one = [&](const std::string& key, const CaseVerticalReserve& reserve) {
      if (reserve.recovery > reserve.break_point) {
        refuse("/fusion/vertical/" + key + "/1", "recovery " + to_text(reserve.recovery.value) +
                                                     " is above the break; allowed: at most " +
                                                     to_text(reserve.break_point.value));
      }
    };
    check_one("right_supra_pd", case_.fusion.right_supra);
    check_one("right_infra_pd", case_.fusion.right_infra);
    const double width =
        case_.fusion.right_supra.break_point.value + case_.fusion.right_infra.break_point.value;
    if (width < 0.0) {
      refuse("/fusion/vertical", "the two breaks add up to " + to_text(width) +
                                     ": no position in which the patient could fuse; "
                                     "allowed: 0 or more");
    }
  }

  void check_sensory() {
    const CaseSensory& sensory = case_.sensory;
    if (sensory.suppression_eye == AffectedEye::none && sensory.scotoma_diameter.value > 0.0) {
      refuse("/sensory/suppression/scotoma_diameter_deg",
             "is " + to_text(sensory.scotoma_diameter.value) +
                 ", but the eye is none; allowed: 0, or an eye");
    }
    if (sensory.eccentric_eye == AffectedEye::none && sensory.eccentric_nasal.value != 0.0) {
      refuse("/sensory/eccentric_fixation/nasal_deg",
             "is " + to_text(sensory.eccentric_nasal.value) +
                 ", but the eye is none; allowed: 0, or an eye");
    }
    const bool suppresses_preferred =
        (sensory.suppression_eye == AffectedEye::right && sensory.preferred_eye == Eye::right) ||
        (sensory.suppression_eye == AffectedEye::left && sensory.preferred_eye == Eye::left);
    if (suppresses_preferred && sensory.preference > 0.5) {
      warn("/sensory/suppression/eye", std::string("is the preferred eye, ") +
                                           name_of(sensory.preferred_eye) +
                                           "; usual: the other one, or either");
    }
  }

  void check_patient() {
    const CasePatient& patient = case_.patient;
    if (patient.near_working_distance > patient.screen_distance) {
      warn("/patient/near_working_distance_cm", "is farther away than the screen; usual: nearer");
    }
    const CaseHeadPosture& head = patient.head_posture;
    if (head.seeks_comfort &&
        (head.roll.value != 0.0 || head.turn.value != 0.0 || head.chin.value != 0.0)) {
      refuse("/patient/head_posture",
             "is both written and sought; allowed: angles, or seeks_comfort true");
    }
    for (const auto& [question, answer] : case_.answers) {
      if (std::find(kAnsweredByTheEyes.begin(), kAnsweredByTheEyes.end(), question) ==
          kAnsweredByTheEyes.end()) {
        continue;
      }
      refuse("/patient/answers/" + question,
             "is what the patient's eyes answer, not the case; allowed: other questions");
    }
    if (case_.expected.red_flag && case_.expected.urgency &&
        *case_.expected.urgency == Urgency::routine) {
      warn("/expected/urgency", "is routine beside a red flag; usual: same_day or urgent");
    }
  }

  const Case& case_;
  Problems* warnings_;
  const patient::Muscles& made_;
  Problems problems_;
};

}  // namespace

Problems check_meaning(const Case& the_case, Problems* warnings) {
  return check_meaning(the_case, warnings, {});
}

Problems check_meaning(const Case& the_case, Problems* warnings, const patient::Muscles& made) {
  return Checker(the_case, warnings, made).check();
}

}  // namespace redress
