// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From a case to JSON, every value written out, and the explanation of where each came from.
#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/case_words.hpp"
#include "sim/cases/defaults.hpp"
#include "sim/cases/instability.hpp"
#include "sim/cases/teaching.hpp"

namespace redress {
namespace {

using nlohmann::json;

json number(double value) { return to_json_number(value); }

template <class Unit>
json number(Quantity<Unit> quantity) {
  return to_json_number(quantity.value);
}

// Metres to the centimetres that were read: 0.57 m is 57 cm and not 56.99999999999999.
json centimetres(Metres length) {
  constexpr double kParts = 1e9;
  const auto parts = static_cast<std::int64_t>(length.value * 100.0 * kParts + 0.5);
  return to_json_number(static_cast<double>(parts) / kParts);
}

json to_json(const CaseReserve& reserve) {
  return json::array({reserve.blur ? number(*reserve.blur) : json(nullptr),
                      number(reserve.break_point), number(reserve.recovery)});
}

json to_json(const CaseReserves& reserves) {
  return {{"base_out_pd", to_json(reserves.base_out)}, {"base_in_pd", to_json(reserves.base_in)}};
}

json to_json(const CaseVerticalReserve& reserve) {
  return json::array({number(reserve.break_point), number(reserve.recovery)});
}

json to_json(const CaseEyeRefraction& eye) {
  return {{"sphere_d", number(eye.sphere)},
          {"cylinder_d", number(eye.cylinder)},
          {"axis_deg", number(eye.axis)},
          {"acuity_logmar", number(eye.acuity_logmar)}};
}

json to_json(const std::optional<CaseSpectacleLens>& lens) {
  if (!lens) return nullptr;
  return {{"sphere_d", number(lens->sphere)},
          {"cylinder_d", number(lens->cylinder)},
          {"axis_deg", number(lens->axis)},
          {"prism_pd", number(lens->prism)},
          {"base_deg", number(lens->base)},
          {"optical_centre_height_mm", number(lens->optical_centre_height)}};
}

json to_json(const CasePatient& patient, const Case& the_case) {
  return {{"name", patient.name},
          {"sex", find_name(kSexWords, patient.sex)},
          {"appearance", patient.appearance},
          {"age_years", number(patient.age_years)},
          {"story", patient.story},
          {"interpupillary_distance_mm", number(patient.interpupillary_distance)},
          {"near_working_distance_cm", centimetres(patient.near_working_distance)},
          {"screen_distance_cm", centimetres(patient.screen_distance)},
          {"head_posture",
           {{"roll_deg", number(patient.head_posture.roll)},
            {"turn_deg", number(patient.head_posture.turn)},
            {"chin_deg", number(patient.head_posture.chin)},
            {"seeks_comfort", patient.head_posture.seeks_comfort}}},
          {"answers", texts_json(the_case.answers)}};
}

json refraction_json(const Case& the_case) {
  const CaseSpectacles& spectacles = the_case.spectacles;
  const Millimetres centres =
      spectacles.optical_centres.value_or(the_case.patient.interpupillary_distance);
  const bool bifocal = spectacles.design == SpectacleDesign::bifocal;
  const bool progressive = spectacles.design == SpectacleDesign::progressive;
  const auto length = [](bool has, std::optional<Millimetres> written, Millimetres usual) {
    return has ? number(written.value_or(usual)) : json(nullptr);
  };
  return {{"right", to_json(the_case.refraction.right)},
          {"left", to_json(the_case.refraction.left)},
          {"spectacles",
           {{"right", to_json(spectacles.lens.right)},
            {"left", to_json(spectacles.lens.left)},
            {"add_d", number(spectacles.add)},
            {"design", find_name(kDesignWords, spectacles.design)},
            {"contact_lenses", spectacles.contact_lenses},
            {"worn", spectacles.worn_at_start()},
            {"vertex_distance_mm", number(spectacles.vertex_distance)},
            {"optical_centres_mm", number(centres)},
            {"segment_top_mm", length(bifocal, spectacles.segment_top, kUsualSegmentTop)},
            {"fitting_cross_mm", length(progressive, spectacles.fitting_cross, kUsualFittingCross)},
            {"corridor_mm", length(progressive, spectacles.corridor, kUsualCorridor)},
            {"inset_mm", length(bifocal || progressive, spectacles.inset, kUsualInset)}}}};
}

json to_json(const CaseDeviation& deviation) {
  json by_distance = json::array();
  for (const auto& [distance, size] : deviation.by_distance) {
    by_distance.push_back(json::array({number(distance), number(size)}));
  }
  return {
      {"distance_pd", number(deviation.distance)},
      {"near_pd", number(deviation.near)},
      {"vertical_pd", number(deviation.vertical)},
      {"far_distance_pd", deviation.far_distance ? number(*deviation.far_distance) : json(nullptr)},
      {"ac_a_pd_per_d", number(deviation.ac_a_pd_per_d)},
      {"by_distance_pd", std::move(by_distance)}};
}

json to_json(const CaseFusion& fusion) {
  return {{"present", fusion.present},
          {"distance", to_json(fusion.distance)},
          {"near", to_json(fusion.near)},
          {"far_distance", fusion.far_distance ? to_json(*fusion.far_distance) : json(nullptr)},
          {"vertical",
           {{"right_supra_pd", to_json(fusion.right_supra)},
            {"right_infra_pd", to_json(fusion.right_infra)}}},
          {"release_time_constant_s", number(fusion.release_time_constant)},
          {"recovery_time_constant_s", number(fusion.recovery_time_constant)},
          {"fatigue", number(fusion.fatigue)},
          {"tenacious", number(fusion.tenacious)}};
}

json to_json(const CaseSensory& sensory) {
  return {{"preferred_eye", name_of(sensory.preferred_eye)},
          {"preference", number(sensory.preference)},
          {"suppression",
           {{"eye", find_name(kSuppressionEyeWords, sensory.suppression_eye)},
            {"scotoma_diameter_deg", number(sensory.scotoma_diameter)}}},
          {"eccentric_fixation",
           {{"eye", find_name(kOneEyeWords, sensory.eccentric_eye)},
            {"nasal_deg", number(sensory.eccentric_nasal)}}},
          {"anomaly_pd", number(sensory.anomaly)},
          {"monocular_diplopia", find_name(kOneEyeWords, sensory.monocular_diplopia)}};
}

json muscles_json(const Case& the_case) {
  json out = json::object();
  for (const Eye eye : kBothEyes) {
    for (const MuscleWord& word : kMuscleWords) {
      const CaseMuscle& muscle = the_case.muscles[eye].*word.muscle;
      json& entry = out[name_of(eye)][std::string(word.name)];
      entry = {{"strength", number(muscle.strength)},
               {"limit_deg", muscle.limit ? number(*muscle.limit) : json(nullptr)},
               {"limit_stiffness", number(muscle.limit_stiffness)},
               {"shorter_deg", number(muscle.shorter)},
               {"stiffness", number(muscle.stiffness)}};
      if (word.name == "lateral_rectus") entry["share_of_medial"] = number(muscle.share_of_medial);
      if (word.name == "medial_rectus") entry["version_gain"] = number(muscle.version_gain);
    }
  }
  out["tilt_gain"] = number(the_case.tilt_gain);
  out["skew_pd"] = number(the_case.skew);
  out["fatigability"] = {{"right", number(the_case.fatigability.right)},
                         {"left", number(the_case.fatigability.left)}};
  return out;
}

json to_json(const CaseExpected& expected) {
  json tests = nullptr;
  if (expected.tests) {
    tests = json::array();
    for (const CalledTest test : *expected.tests) {
      tests.push_back(find_name(kCalledTestWords, test));
    }
  }
  json plan = json::array();
  for (const std::vector<PlanPart>& parts : expected.plan) {
    std::string words;
    for (const PlanPart part : parts) {
      if (!words.empty()) words += kPlanAlternative;
      words += find_name(kPlanPartWords, part);
    }
    plan.push_back(words);
  }
  json harmful = json::array();
  for (const PlanPart part : expected.harmful) harmful.push_back(find_name(kPlanPartWords, part));
  return {{"diagnosis", expected.diagnosis},
          {"accepted", expected.accepted_diagnoses},
          {"urgency",
           expected.urgency ? json(find_name(kUrgencyWords, *expected.urgency)) : json(nullptr)},
          {"red_flag", expected.red_flag},
          {"plan", std::move(plan)},
          {"harmful", std::move(harmful)},
          {"also_without", expected.also_without},
          {"reserve_criterion", find_name(kReserveCriterionWords, expected.reserve_criterion)},
          {"tests", std::move(tests)}};
}

void explain_value(const json& value, const json& as_written, const std::string& place,
                   std::string& out) {
  if (value.is_object() && !value.empty()) {
    for (const auto& [key, member] : value.items()) {
      explain_value(member, as_written, pointer_to(place, key), out);
    }
    return;
  }
  out += place + " = " + value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (as_written.contains(json::json_pointer(place))) {
    out += "  (written)\n";
  } else {
    out += "  (default: " + std::string(find_default_source(place)) + ")\n";
  }
}

}  // namespace

json to_json(const Case& the_case) {
  return {{"format", kCaseFormat},
          {"version", kCaseVersion},
          {"title", the_case.title},
          {"note", the_case.note},
          {"seed", the_case.seed},
          {"patient", to_json(the_case.patient, the_case)},
          {"refraction", refraction_json(the_case)},
          {"deviation", to_json(the_case.deviation)},
          {"accommodation", {{"spasm_d", number(the_case.accommodation.spasm)}}},
          {"fusion", to_json(the_case.fusion)},
          {"sensory", to_json(the_case.sensory)},
          {"muscles", muscles_json(the_case)},
          {"instability", to_json(the_case.instability)},
          {"pupils", to_json(the_case.pupils)},
          {"lids", to_json(the_case.lids)},
          {"expected", to_json(the_case.expected)},
          {"teaching", to_json(the_case.teaching)},
          {"on_file", texts_json(the_case.on_file)}};
}

std::string explain(const Case& the_case, const json& as_written) {
  std::string out;
  explain_value(to_json(the_case), as_written, "", out);
  return out;
}

}  // namespace redress
