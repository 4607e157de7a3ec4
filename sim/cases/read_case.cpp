// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From JSON to a case: keys, types and ranges. Meaning: check_case.cpp.
#include <algorithm>
#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/case_words.hpp"
#include "sim/cases/defaults.hpp"
#include "sim/cases/instability.hpp"
#include "sim/cases/migrate.hpp"
#include "sim/cases/teaching.hpp"

namespace redress {
namespace {

using nlohmann::json;

// Lengths in bytes.
constexpr std::size_t kTitleBytes = 200;
constexpr std::size_t kWordBytes = 200;
constexpr std::size_t kTextBytes = 4000;
constexpr std::size_t kMostAccepted = 64;
constexpr std::size_t kMostPlanParts = 12;
constexpr std::size_t kMostDistances = 14;  // with 6 m and 40 cm what patient::Tonus can hold

constexpr std::int64_t kLargestSeed = (std::int64_t{1} << 53) - 1;

template <class Q>
Q read_quantity(ObjectReader& reader, std::string_view key, double low, double high, Q otherwise) {
  return Q{reader.number(key, low, high, otherwise.value)};
}

void read_patient(ObjectReader reader, Case& the_case) {
  CasePatient& patient = the_case.patient;
  patient.name = reader.string("name", kWordBytes);
  patient.sex = reader.enumerated("sex", kSexWords, patient.sex);
  patient.appearance = reader.string("appearance", kWordBytes);
  patient.age_years = reader.number("age_years", 1, 99, patient.age_years);
  patient.story = reader.string("story", kTextBytes);
  patient.interpupillary_distance =
      read_quantity(reader, "interpupillary_distance_mm", 40, 80, patient.interpupillary_distance);
  const double near_cm = patient.near_working_distance.value * 100.0;
  patient.near_working_distance =
      Metres{reader.number("near_working_distance_cm", 10, 100, near_cm) / 100.0};
  const double screen_cm = patient.screen_distance.value * 100.0;
  patient.screen_distance = Metres{reader.number("screen_distance_cm", 20, 200, screen_cm) / 100.0};
  ObjectReader posture = reader.object("head_posture");
  CaseHeadPosture& head = patient.head_posture;
  head.roll = read_quantity(posture, "roll_deg", -45, 45, head.roll);
  head.turn = read_quantity(posture, "turn_deg", -45, 45, head.turn);
  head.chin = read_quantity(posture, "chin_deg", -30, 30, head.chin);
  head.seeks_comfort = posture.boolean("seeks_comfort", head.seeks_comfort);
  posture.finish();
  read_texts(reader, "answers", the_case.answers);
  reader.finish();
}

CaseEyeRefraction read_eye(ObjectReader reader, CaseEyeRefraction eye) {
  eye.sphere = read_quantity(reader, "sphere_d", -30, 30, eye.sphere);
  eye.cylinder = read_quantity(reader, "cylinder_d", -12, 12, eye.cylinder);
  eye.axis = read_quantity(reader, "axis_deg", 0, 180, eye.axis);
  eye.acuity_logmar = reader.number("acuity_logmar", -0.3, 3.0, eye.acuity_logmar);
  reader.finish();
  return eye;
}

// Absent or null: that eye owns no lens.
std::optional<CaseSpectacleLens> read_lens(ObjectReader& spectacles, std::string_view key) {
  const json* found = spectacles.raw(key);
  if (found == nullptr || found->is_null()) return std::nullopt;
  ObjectReader reader(*found, spectacles.place_of(key), spectacles.problems());
  CaseSpectacleLens lens;
  lens.sphere = read_quantity(reader, "sphere_d", -30, 30, lens.sphere);
  lens.cylinder = read_quantity(reader, "cylinder_d", -12, 12, lens.cylinder);
  lens.axis = read_quantity(reader, "axis_deg", 0, 180, lens.axis);
  lens.prism = read_quantity(reader, "prism_pd", 0, 40, lens.prism);
  lens.base = read_quantity(reader, "base_deg", 0, 360, lens.base);
  lens.optical_centre_height =
      read_quantity(reader, "optical_centre_height_mm", -15, 15, lens.optical_centre_height);
  reader.finish();
  return lens;
}

std::optional<Millimetres> read_length(ObjectReader& reader, std::string_view key, double low,
                                       double high) {
  const auto length = reader.optional_number(key, low, high);
  return length ? std::optional(Millimetres{*length}) : std::nullopt;
}

void read_spectacles(ObjectReader reader, CaseSpectacles& spectacles) {
  spectacles.lens.right = read_lens(reader, "right");
  spectacles.lens.left = read_lens(reader, "left");
  spectacles.add = read_quantity(reader, "add_d", 0, 4, spectacles.add);
  spectacles.design = reader.enumerated("design", kDesignWords, spectacles.design);
  spectacles.contact_lenses = reader.boolean("contact_lenses", spectacles.contact_lenses);
  spectacles.worn = reader.optional_boolean("worn");
  spectacles.vertex_distance =
      read_quantity(reader, "vertex_distance_mm", 5, 25, spectacles.vertex_distance);
  spectacles.optical_centres = read_length(reader, "optical_centres_mm", 30, 90);
  spectacles.segment_top = read_length(reader, "segment_top_mm", -20, 10);
  spectacles.fitting_cross = read_length(reader, "fitting_cross_mm", -10, 10);
  spectacles.corridor = read_length(reader, "corridor_mm", 6, 25);
  spectacles.inset = read_length(reader, "inset_mm", 0, 6);
  reader.finish();
}

void read_refraction(ObjectReader reader, Case& the_case) {
  the_case.refraction.right = read_eye(reader.object("right"), the_case.refraction.right);
  the_case.refraction.left = read_eye(reader.object("left"), the_case.refraction.left);
  read_spectacles(reader.object("spectacles"), the_case.spectacles);
  reader.finish();
}

void read_by_distance(ObjectReader& reader, CaseDeviation& deviation) {
  const json* points = reader.array("by_distance_pd", 0, kMostDistances);
  if (points == nullptr) return;
  for (std::size_t i = 0; i < points->size(); ++i) {
    const json& point = (*points)[i];
    const std::string place = pointer_to(reader.place_of("by_distance_pd"), i);
    if (!point.is_array() || point.size() != 2) {
      reader.problems().push_back(
          {place, "is " + short_text(point) + "; allowed: [distance in metres, prism dioptres]"});
      continue;
    }
    const auto distance =
        read_number(point[0], pointer_to(place, std::size_t{0}), 0.1, 100, reader.problems());
    const auto size =
        read_number(point[1], pointer_to(place, std::size_t{1}), -100, 100, reader.problems());
    if (distance && size) {
      deviation.by_distance.emplace_back(Metres{*distance}, PrismDioptres{*size});
    }
  }
}

void read_deviation(ObjectReader reader, CaseDeviation& deviation) {
  deviation.distance = read_quantity(reader, "distance_pd", -100, 100, deviation.distance);
  deviation.near = read_quantity(reader, "near_pd", -100, 100, deviation.near);
  deviation.vertical = read_quantity(reader, "vertical_pd", -50, 50, deviation.vertical);
  if (const auto far = reader.optional_number("far_distance_pd", -100, 100)) {
    deviation.far_distance = PrismDioptres{*far};
  }
  deviation.ac_a_pd_per_d = reader.number("ac_a_pd_per_d", 0, 15, deviation.ac_a_pd_per_d);
  read_by_distance(reader, deviation);
  reader.finish();
}

// [blur or null, break, recovery]
CaseReserve read_reserve(ObjectReader& reader, std::string_view key, CaseReserve reserve) {
  const json* items = reader.array(key, 3, 3);
  if (items == nullptr) return reserve;
  const std::string place = reader.place_of(key);
  Problems& problems = reader.problems();
  std::optional<double> blur;
  if (!(*items)[0].is_null()) {
    blur = read_number((*items)[0], pointer_to(place, std::size_t{0}), 0, 100, problems);
    if (!blur) return reserve;
  }
  const auto break_point =
      read_number((*items)[1], pointer_to(place, std::size_t{1}), -100, 100, problems);
  const auto recovery =
      read_number((*items)[2], pointer_to(place, std::size_t{2}), -100, 100, problems);
  if (!break_point || !recovery) return reserve;
  reserve.blur = blur ? std::optional(PrismDioptres{*blur}) : std::nullopt;
  reserve.break_point = PrismDioptres{*break_point};
  reserve.recovery = PrismDioptres{*recovery};
  return reserve;
}

// [break, recovery]
CaseVerticalReserve read_vertical(ObjectReader& reader, std::string_view key,
                                  CaseVerticalReserve reserve) {
  const json* items = reader.array(key, 2, 2);
  if (items == nullptr) return reserve;
  const std::string place = reader.place_of(key);
  Problems& problems = reader.problems();
  const auto break_point =
      read_number((*items)[0], pointer_to(place, std::size_t{0}), -50, 50, problems);
  const auto recovery =
      read_number((*items)[1], pointer_to(place, std::size_t{1}), -50, 50, problems);
  if (!break_point || !recovery) return reserve;
  return {PrismDioptres{*break_point}, PrismDioptres{*recovery}};
}

CaseReserves read_reserves(ObjectReader reader, CaseReserves reserves) {
  reserves.base_out = read_reserve(reader, "base_out_pd", reserves.base_out);
  reserves.base_in = read_reserve(reader, "base_in_pd", reserves.base_in);
  reader.finish();
  return reserves;
}

void read_fusion(ObjectReader reader, CaseFusion& fusion) {
  fusion.present = reader.boolean("present", fusion.present);
  fusion.distance = read_reserves(reader.object("distance"), fusion.distance);
  fusion.near = read_reserves(reader.object("near"), fusion.near);
  if (const json* far = reader.raw("far_distance"); far != nullptr && !far->is_null()) {
    fusion.far_distance = read_reserves(
        ObjectReader(*far, reader.place_of("far_distance"), reader.problems()), fusion.distance);
  }
  ObjectReader vertical = reader.object("vertical");
  fusion.right_supra = read_vertical(vertical, "right_supra_pd", fusion.right_supra);
  fusion.right_infra = read_vertical(vertical, "right_infra_pd", fusion.right_infra);
  vertical.finish();
  fusion.release_time_constant =
      read_quantity(reader, "release_time_constant_s", 0.02, 600, fusion.release_time_constant);
  fusion.recovery_time_constant =
      read_quantity(reader, "recovery_time_constant_s", 0.02, 600, fusion.recovery_time_constant);
  fusion.fatigue = reader.number("fatigue", 0, 1, fusion.fatigue);
  fusion.tenacious = reader.number("tenacious", 0, 0.9, fusion.tenacious);
  reader.finish();
}

void read_sensory(ObjectReader reader, CaseSensory& sensory) {
  sensory.preferred_eye = reader.enumerated("preferred_eye", kEyeWords, sensory.preferred_eye);
  sensory.preference = reader.number("preference", 0.5, 1, sensory.preference);
  ObjectReader suppression = reader.object("suppression");
  sensory.suppression_eye =
      suppression.enumerated("eye", kSuppressionEyeWords, sensory.suppression_eye);
  sensory.scotoma_diameter =
      read_quantity(suppression, "scotoma_diameter_deg", 0, 30, sensory.scotoma_diameter);
  suppression.finish();
  ObjectReader eccentric = reader.object("eccentric_fixation");
  sensory.eccentric_eye = eccentric.enumerated("eye", kOneEyeWords, sensory.eccentric_eye);
  sensory.eccentric_nasal = read_quantity(eccentric, "nasal_deg", -20, 20, sensory.eccentric_nasal);
  eccentric.finish();
  sensory.anomaly = read_quantity(reader, "anomaly_pd", -100, 100, sensory.anomaly);
  sensory.monocular_diplopia =
      reader.enumerated("monocular_diplopia", kOneEyeWords, sensory.monocular_diplopia);
  reader.finish();
}

CaseMuscle read_muscle(ObjectReader reader, std::string_view name, CaseMuscle muscle) {
  muscle.strength = reader.number("strength", 0, 3, muscle.strength);
  if (const auto limit = reader.optional_number("limit_deg", -60, 60)) {
    muscle.limit = Degrees{*limit};
  }
  muscle.limit_stiffness = reader.number("limit_stiffness", 0, 100, muscle.limit_stiffness);
  muscle.shorter = read_quantity(reader, "shorter_deg", -40, 40, muscle.shorter);
  muscle.stiffness = reader.number("stiffness", 0.1, 10, muscle.stiffness);
  if (name == "lateral_rectus") {
    muscle.share_of_medial = reader.number("share_of_medial", 0, 1, muscle.share_of_medial);
  }
  if (name == "medial_rectus") {
    muscle.version_gain = reader.number("version_gain", 0, 1, muscle.version_gain);
  }
  reader.finish();
  return muscle;
}

void read_muscles(ObjectReader reader, Case& the_case) {
  for (const Eye eye : kBothEyes) {
    ObjectReader one_eye = reader.object(name_of(eye));
    for (const MuscleWord& word : kMuscleWords) {
      CaseMuscle& muscle = the_case.muscles[eye].*word.muscle;
      muscle = read_muscle(one_eye.object(word.name), word.name, muscle);
    }
    one_eye.finish();
  }
  the_case.tilt_gain = reader.number("tilt_gain", 1, 2, the_case.tilt_gain);
  the_case.skew = read_quantity(reader, "skew_pd", -30, 30, the_case.skew);
  ObjectReader tiring = reader.object("fatigability");
  the_case.fatigability.right = tiring.number("right", 0, 1, the_case.fatigability.right);
  the_case.fatigability.left = tiring.number("left", 0, 1, the_case.fatigability.left);
  tiring.finish();
  reader.finish();
}

void read_called_tests(ObjectReader& reader, CaseExpected& expected) {
  const json* written = reader.raw("tests");
  if (written == nullptr || written->is_null()) return;
  const json* named = reader.array("tests", 0, kMostCalledTests);
  if (named == nullptr) return;
  expected.tests.emplace();
  for (std::size_t i = 0; i < named->size(); ++i) {
    const json& word = (*named)[i];
    std::optional<CalledTest> test;
    std::string allowed;
    for (const auto& [name, value] : kCalledTestWords) {
      if (word.is_string() && word.get_ref<const std::string&>() == name) test = value;
      allowed.append(allowed.empty() ? "" : ", ").append(name);
    }
    if (test) {
      expected.tests->push_back(*test);
    } else {
      reader.problems().push_back({pointer_to(reader.place_of("tests"), i),
                                   "is " + short_text(word) + "; allowed: one of " + allowed});
    }
  }
}

std::optional<PlanPart> find_plan_part(std::string_view word) {
  for (const auto& [name, part] : kPlanPartWords) {
    if (word == name) return part;
  }
  return std::nullopt;
}

// "refer_emergency or refer_ophthalmology": one of them is enough.
std::optional<std::vector<PlanPart>> find_plan_parts(std::string_view words) {
  std::vector<PlanPart> parts;
  for (;;) {
    const std::size_t end = words.find(kPlanAlternative);
    const auto part = find_plan_part(words.substr(0, end));
    if (!part) return std::nullopt;
    parts.push_back(*part);
    if (end == std::string_view::npos) return parts;
    words.remove_prefix(end + kPlanAlternative.size());
  }
}

std::vector<std::vector<PlanPart>> read_plan_parts(ObjectReader& reader, std::string_view key,
                                                   bool alternatives) {
  std::vector<std::vector<PlanPart>> plan;
  const json* written = reader.array(key, 0, kMostPlanParts);
  if (written == nullptr) return plan;
  for (std::size_t i = 0; i < written->size(); ++i) {
    const json& words = (*written)[i];
    std::optional<std::vector<PlanPart>> parts;
    if (words.is_string()) parts = find_plan_parts(words.get_ref<const std::string&>());
    if (parts && (alternatives || parts->size() == 1)) {
      plan.push_back(std::move(*parts));
      continue;
    }
    std::string allowed;
    for (const auto& [name, part] : kPlanPartWords) {
      allowed.append(allowed.empty() ? "" : ", ").append(name);
    }
    reader.problems().push_back(
        {pointer_to(reader.place_of(key), i),
         "is " + short_text(words) + "; allowed: one of " + allowed +
             (alternatives ? ", or several of them with \" or \" between" : "")});
  }
  return plan;
}

void read_expected(ObjectReader reader, CaseExpected& expected) {
  expected.diagnosis = reader.string("diagnosis", kWordBytes);
  if (const json* accepted = reader.array("accepted", 0, kMostAccepted)) {
    for (std::size_t i = 0; i < accepted->size(); ++i) {
      const json& wording = (*accepted)[i];
      if (wording.is_string() && wording.get_ref<const std::string&>().size() <= kWordBytes) {
        expected.accepted_diagnoses.push_back(wording.get<std::string>());
      } else {
        reader.problems().push_back({pointer_to(reader.place_of("accepted"), i),
                                     "is " + short_text(wording) +
                                         "; allowed: a string of at most " +
                                         std::to_string(kWordBytes) + " bytes"});
      }
    }
  }
  expected.urgency = reader.optional_enumerated("urgency", kUrgencyWords);
  expected.red_flag = reader.boolean("red_flag", expected.red_flag);
  expected.plan = read_plan_parts(reader, "plan", true);
  for (const auto& parts : read_plan_parts(reader, "harmful", false)) {
    expected.harmful.push_back(parts.front());
  }
  expected.also_without = reader.boolean("also_without", expected.also_without);
  expected.reserve_criterion =
      reader.enumerated("reserve_criterion", kReserveCriterionWords, expected.reserve_criterion);
  read_called_tests(reader, expected);
  reader.finish();
}

// A file of another kind or a newer version is not worth reading on.
Problems check_header(ObjectReader& reader) {
  Problems problems;
  const json* format = reader.raw("format");
  if (format == nullptr) {
    problems.push_back({"/format", "is missing; allowed: \"redress-case\""});
  } else if (*format != kCaseFormat) {
    problems.push_back({"/format", "is " + short_text(*format) + "; allowed: \"redress-case\""});
  }
  const json* version = reader.raw("version");
  if (version == nullptr) {
    problems.push_back({"/version", "is missing; allowed: 1"});
  } else if (version->is_number() && version->get<double>() > kCaseVersion) {
    problems.push_back({"/version", "written by a newer version (" + short_text(*version) +
                                        "; this one reads " + std::to_string(kCaseVersion) + ")"});
  } else if (*version != kCaseVersion) {
    problems.push_back({"/version", "is " + short_text(*version) + "; allowed: 1"});
  }
  return problems;
}

bool is_within(const std::string& place, const std::string& outer) {
  return place.compare(0, outer.size(), outer) == 0 &&
         (place.size() == outer.size() || place[outer.size()] == '/');
}

// Where a value could not be read the default stands in for it: a contradiction with that default
// is not the writer's fault.
void add_meaning_problems(const Case& the_case, Problems& problems) {
  const Problems read_problems = problems;
  const bool whole_patient =
      std::none_of(read_problems.begin(), read_problems.end(),
                   [](const Problem& earlier) { return is_within(earlier.place, "/patient"); });
  for (Problem& found : check_meaning(the_case, nullptr)) {
    const bool already =
        std::any_of(read_problems.begin(), read_problems.end(), [&](const Problem& earlier) {
          return is_within(found.place, earlier.place) || is_within(earlier.place, found.place);
        });
    // Tonus and the centring of lenses follow from the patient's age and pupils as well.
    const bool needs_patient =
        found.place == "/deviation" || found.place == "/refraction/spectacles/optical_centres_mm";
    if (!already && (whole_patient || !needs_patient)) problems.push_back(std::move(found));
  }
}

}  // namespace

namespace {

/// Of an older version, where there is a step from it; else the value as it is, for its reader to
/// refuse.
json bring_up_to_date(const json& value) {
  if (!value.is_object() || !value.contains("version")) return value;
  const json& version = value.at("version");
  if (!version.is_number_integer() || version.get<std::int64_t>() >= kCaseVersion) return value;
  const auto now = migrate(nlohmann::ordered_json::parse(value.dump()), kCaseVersion);
  return now.ok() ? json::parse(now.value().dump()) : value;
}

Result<Case> parse_present_case(const json& value) {
  Problems problems;
  ObjectReader reader(value, "", problems);
  if (!reader.is_object()) return problems;
  if (Problems header = check_header(reader); !header.empty()) return header;

  Case the_case = make_healthy_case();
  if (auto title = reader.required_string("title", kTitleBytes)) {
    the_case.title = *std::move(title);
    if (the_case.title.empty()) reader.report("title", "is empty; allowed: 1 to 200 bytes");
  }
  the_case.note = reader.string("note", kTextBytes);
  the_case.seed = static_cast<std::uint64_t>(
      reader.integer("seed", 0, kLargestSeed, static_cast<std::int64_t>(the_case.seed)));
  read_patient(reader.object("patient"), the_case);
  read_refraction(reader.object("refraction"), the_case);
  read_deviation(reader.required_object("deviation"), the_case.deviation);
  ObjectReader accommodation = reader.object("accommodation");
  the_case.accommodation.spasm =
      read_quantity(accommodation, "spasm_d", 0, 10, the_case.accommodation.spasm);
  accommodation.finish();
  read_fusion(reader.object("fusion"), the_case.fusion);
  read_sensory(reader.object("sensory"), the_case.sensory);
  read_muscles(reader.object("muscles"), the_case);
  read_instability(reader.object("instability"), the_case.instability);
  read_pupils(reader.object("pupils"), the_case.pupils);
  read_lids(reader.object("lids"), the_case.lids);
  read_expected(reader.object("expected"), the_case.expected);
  read_teaching(reader.object("teaching"), the_case.teaching);
  read_texts(reader, "on_file", the_case.on_file);
  reader.finish();

  add_meaning_problems(the_case, problems);
  if (!problems.empty()) return problems;
  return the_case;
}

}  // namespace

Result<Case> parse_case(const json& value) {
  const bool is_present =
      !value.is_object() || !value.contains("version") || value.at("version") == kCaseVersion;
  return parse_present_case(is_present ? value : bring_up_to_date(value));
}

Result<Case> read_case_text(std::string_view text) {
  const Result<json> parsed = parse_json(text);
  if (!parsed) return parsed.problems();
  return parse_case(parsed.value());
}

}  // namespace redress
