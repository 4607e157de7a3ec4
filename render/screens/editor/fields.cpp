// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/editor/fields.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/json_reader.hpp"

namespace redress::screens::editor {

namespace {

using nlohmann::ordered_json;
using S = Section;
using K = FieldKind;

constexpr std::string_view kEyes[] = {"right", "left"};
constexpr std::string_view kOneEye[] = {"none", "right", "left"};
constexpr std::string_view kWhichEye[] = {"none", "right", "left", "either"};
constexpr std::string_view kDesigns[] = {"single", "bifocal", "progressive"};
constexpr std::string_view kUrgencies[] = {"same_day", "urgent", "soon", "routine"};

constexpr Field kFields[] = {
    {S::story, "/title", "Title", K::words, "shown to the practitioner", 0, 0,
     "Stands in lists: no word of what is there."},
    {S::story, "/patient/name", "Name", K::words, "invented"},
    {S::story, "/patient/age_years", "Age", K::number, "years", 1, 99,
     "Sets how far the patient can accommodate, how quick saccades are, and the face."},
    {S::story, "/patient/story", "Story", K::words, "", 0, 0, "What the patient says first."},
    {S::story, "/patient/interpupillary_distance_mm", "Between the pupils", K::number, "mm", 40, 80,
     "At distance; sets how much the eyes converge."},
    {S::story, "/patient/near_working_distance_cm", "Reads at", K::number, "cm", 10, 100},
    {S::story, "/patient/screen_distance_cm", "Screen at", K::number, "cm", 20, 200},
    {S::story, "", "Answers to questions"},
    {S::story, "/patient/answers/onset", "Beginning"},
    {S::story, "/patient/answers/double_vision", "Seeing two"},
    {S::story, "/patient/answers/variation", "When worse"},
    {S::story, "/patient/answers/tired_eyes", "Tired eyes"},
    {S::story, "/patient/answers/headache", "Headaches"},
    {S::story, "/patient/answers/bright_light", "Bright light"},
    {S::story, "/patient/answers/injury", "Injury"},
    {S::story, "/patient/answers/health", "Health"},
    {S::story, "/patient/answers/previous_treatment", "Treatment"},
    {S::story, "/patient/answers/family", "Family"},
    {S::story, "/patient/answers/work", "Work"},
    {S::story, "/patient/answers/school", "School"},

    {S::appearance, "/patient/appearance", "Face", K::words, "empty: any"},
    {S::appearance, "/patient/head_posture/roll_deg", "Head tilted", K::number,
     "° + to the right shoulder", -45, 45, "How the patient holds the head unless told otherwise."},
    {S::appearance, "/patient/head_posture/turn_deg", "Head turned", K::number, "° + to the right",
     -45, 45},
    {S::appearance, "/patient/head_posture/chin_deg", "Chin", K::number, "° + up", -30, 30},
    {S::appearance, "/patient/head_posture/seeks_comfort", "Finds its own posture", K::yes_no, "",
     0, 0, "The patient tries where it sees single with the least effort."},
    {S::appearance, "/lids/ptosis_mm/*", "Lid hangs by", K::number, "mm", 0, 10},
    {S::appearance, "/pupils/fixed_mm/*", "Pupil fixed at", K::number, "mm, empty: reacts", 1, 9},
    {S::appearance, "/pupils/anisocoria_mm", "Pupils differ by", K::number, "mm right larger is +",
     -4, 4},

    {S::refraction, "/refraction/*/sphere_d", "Sphere", K::number, "D", -30, 30,
     "The lens that corrects the eye, whether or not it is worn."},
    {S::refraction, "/refraction/*/cylinder_d", "Cylinder", K::number, "D", -15, 15},
    {S::refraction, "/refraction/*/axis_deg", "Axis", K::number, "°", 0, 180},
    {S::refraction, "/refraction/*/acuity_logmar", "Acuity, corrected", K::number, "logMAR", -0.3,
     3, "A target below it is not fixated steadily."},
    {S::refraction, "", "Spectacles owned"},
    {S::refraction, "/refraction/spectacles/*/sphere_d", "Sphere", K::number, "D", -30, 30},
    {S::refraction, "/refraction/spectacles/*/cylinder_d", "Cylinder", K::number, "D", -15, 15},
    {S::refraction, "/refraction/spectacles/*/axis_deg", "Axis", K::number, "°", 0, 180},
    {S::refraction, "/refraction/spectacles/*/prism_pd", "Prism", K::number, "Δ", 0, 40,
     "Prism worked into the glasses: what they hide shows without them."},
    {S::refraction, "/refraction/spectacles/*/base_deg", "Base", K::number, "° ISO 8429", 0, 360},
    {S::refraction, "/refraction/spectacles/add_d", "Addition", K::number, "D", 0, 4},
    {S::refraction, "/refraction/spectacles/design", "Design", K::choice, "", 0, 0, "", kDesigns},
    {S::refraction, "/refraction/spectacles/worn", "Worn at the start", K::yes_no},
    {S::refraction, "/refraction/spectacles/contact_lenses", "Contact lenses", K::yes_no},
    {S::refraction, "/refraction/spectacles/optical_centres_mm", "Optical centres", K::number, "mm",
     30, 90, "Apart from the pupils they make prism."},

    {S::deviation, "/deviation/distance_pd", "At 6 m", K::number, "Δ eso is +", -100, 100,
     "Latent or manifest is never written: it follows from fusion and sensory state."},
    {S::deviation, "/deviation/near_pd", "At 40 cm", K::number, "Δ", -100, 100,
     "With the AC/A ratio it leaves what nearness itself adds; outside 0 to +8Δ is odd."},
    {S::deviation, "/deviation/vertical_pd", "Vertical", K::number, "Δ right higher is +", -50, 50},
    {S::deviation, "/deviation/far_distance_pd", "Far distance", K::number, "Δ empty: follows",
     -100, 100, "At 20 m and beyond: an exodeviation that shows only through the window."},
    {S::deviation, "/deviation/ac_a_pd_per_d", "AC/A", K::number, "Δ per D", 0, 15,
     "Gradient: how far a dioptre of accommodation turns the eyes in."},
    {S::deviation, "/accommodation/spasm_d", "Spasm of near", K::number, "D", 0, 10},

    {S::fusion, "/fusion/present", "Fusion", K::yes_no, "", 0, 0,
     "Without it no vergence holds the eyes on one target."},
    {S::fusion, "", "6 m: blur, break, recovery"},
    {S::fusion, "/fusion/distance/base_out_pd", "Base out", K::three, "Δ", -100, 100,
     "From the straight position, by a prism bar."},
    {S::fusion, "/fusion/distance/base_in_pd", "Base in", K::three, "Δ", -100, 100},
    {S::fusion, "", "40 cm: blur, break, recovery"},
    {S::fusion, "/fusion/near/base_out_pd", "Base out", K::three, "Δ", -100, 100},
    {S::fusion, "/fusion/near/base_in_pd", "Base in", K::three, "Δ", -100, 100,
     "A recovery below 0: once apart, fusion does not come back by itself."},
    {S::fusion, "", "Vertical: break, recovery"},
    {S::fusion, "/fusion/vertical/right_supra_pd", "Right supra", K::two, "Δ", -100, 100},
    {S::fusion, "/fusion/vertical/right_infra_pd", "Right infra", K::two, "Δ", -100, 100},
    {S::fusion, "", "Over time"},
    {S::fusion, "/fusion/release_time_constant_s", "Shows under cover in", K::number, "s", 0.02,
     600, "Time constant of the deviation that appears under cover."},
    {S::fusion, "/fusion/recovery_time_constant_s", "Comes back in", K::number, "s", 0.02, 600},
    {S::fusion, "/fusion/fatigue", "Tires by alternating", K::number, "0 to 1", 0, 1},
    {S::fusion, "/fusion/tenacious", "Hidden until long cover", K::number, "share", 0, 0.9},

    {S::sensory, "/sensory/preferred_eye", "Preferred eye", K::choice, "", 0, 0, "", kEyes},
    {S::sensory, "/sensory/preference", "How often", K::number, "0.5 to 1", 0.5, 1,
     "0.5: alternates freely."},
    {S::sensory, "/sensory/suppression/eye", "Suppresses", K::choice, "", 0, 0,
     "Either: whichever is not fixing.", kWhichEye},
    {S::sensory, "/sensory/suppression/scotoma_diameter_deg", "Scotoma", K::number, "° across", 0,
     30, "A prism that moves the image beyond it is noticed."},
    {S::sensory, "/sensory/eccentric_fixation/eye", "Fixes beside the fovea", K::choice, "", 0, 0,
     "", kOneEye},
    {S::sensory, "/sensory/eccentric_fixation/nasal_deg", "By", K::number, "° nasal is +", -20, 20},
    {S::sensory, "/sensory/anomaly_pd", "Angle of anomaly", K::number, "Δ eso is +", -100, 100,
     "Equal to the manifest deviation: harmonious, no movement under cover."},
    {S::sensory, "/sensory/monocular_diplopia", "Sees two with", K::choice, "", 0, 0, "", kOneEye},

    {S::muscles, "/muscles/*/lateral_rectus/strength", "Lateral rectus", K::number, "strength", 0,
     3, "1 is healthy, 0 palsy, above 1 overaction."},
    {S::muscles, "/muscles/*/medial_rectus/strength", "Medial rectus", K::number, "strength", 0, 3},
    {S::muscles, "/muscles/*/superior_rectus/strength", "Superior rectus", K::number, "strength", 0,
     3},
    {S::muscles, "/muscles/*/inferior_rectus/strength", "Inferior rectus", K::number, "strength", 0,
     3},
    {S::muscles, "/muscles/*/superior_oblique/strength", "Superior oblique", K::number, "strength",
     0, 3},
    {S::muscles, "/muscles/*/inferior_oblique/strength", "Inferior oblique", K::number, "strength",
     0, 3},
    {S::muscles, "", "Stops yielding"},
    {S::muscles, "/muscles/*/lateral_rectus/limit_deg", "Lateral rectus", K::number,
     "° empty: never", -60, 60, "How far the eye turns away from this muscle's own field."},
    {S::muscles, "/muscles/*/medial_rectus/limit_deg", "Medial rectus", K::number, "°", -60, 60},
    {S::muscles, "/muscles/*/superior_rectus/limit_deg", "Superior rectus", K::number, "°", -60,
     60},
    {S::muscles, "/muscles/*/inferior_rectus/limit_deg", "Inferior rectus", K::number, "°", -60,
     60},
    {S::muscles, "/muscles/*/superior_oblique/limit_deg", "Superior oblique", K::number, "°", -60,
     60},
    {S::muscles, "", "Of the patient"},
    {S::muscles, "/muscles/*/medial_rectus/version_gain", "Medial rectus, versions", K::number,
     "0 to 1", 0, 1, "Below 1: internuclear weakness, vergence is spared."},
    {S::muscles, "/muscles/fatigability/*", "Tires in up gaze", K::number, "share a minute", 0, 1},
    {S::muscles, "/muscles/tilt_gain", "Gain of head tilt", K::number, "1 to 2", 1, 2,
     "Above 1: the larger tilt difference of a long-standing palsy."},
    {S::muscles, "/muscles/skew_pd", "Skew", K::number, "Δ right higher is +", -30, 30},

    {S::instability, "/instability/latent_nystagmus_deg", "Latent nystagmus", K::number, "°", 0,
     10},
    {S::instability, "/instability/dvd_pd/*", "Rises behind a cover", K::number, "Δ", 0, 50,
     "Dissociated vertical deviation of this eye."},
    {S::instability, "/instability/infantile_nystagmus/amplitude_deg", "Infantile nystagmus",
     K::number, "°", 0, 10},
    {S::instability, "/instability/infantile_nystagmus/null_deg", "Its null", K::number,
     "° + to the right", -40, 40},
    {S::instability, "/instability/attention", "Attention", K::number, "0 to 1", 0, 1,
     "1: a cooperative adult; 0.5: looks away two to six times a minute."},
    {S::instability, "/instability/blink_on_uncovering", "Blinks on uncovering", K::number, "share",
     0, 1},
    {S::instability, "/instability/resists_cover", "Will not have covered", K::choice, "", 0, 0, "",
     kOneEye},
    {S::instability, "/instability/session_spread_pd", "Visits differ by", K::number, "Δ SD", 0, 5},

    {S::expected, "/expected/diagnosis", "What you mean", K::words,
     "never shown before the debrief", 0, 0, "Compared with what the engine finds."},
    {S::expected, "/expected/accepted", "Accepted wordings", K::list, "between semicolons"},
    {S::expected, "/expected/urgency", "How soon", K::choice, "", 0, 0, "", kUrgencies},
    {S::expected, "/expected/red_flag", "Red flag", K::yes_no, "", 0, 0,
     "Who misses it gets at most 39 marks."},
    {S::expected, "/expected/plan", "Plan asked for", K::list, "between semicolons", 0, 0,
     "Its key parts, as in the schema: glasses; driving; refer_neurology or refer_emergency."},
    {S::expected, "/expected/harmful", "Would do harm", K::list, "between semicolons", 0, 0,
     "Parts of a plan that make it unsafe here."},
    {S::expected, "/expected/also_without", "Without glasses too", K::yes_no},
    {S::expected, "/expected/tests", "Tests called for", K::list, "between semicolons", 0, 0,
     "Three at most, as in the schema: near_point, reserves, ac_a and so on."},

    {S::goals, "/teaching/goal", "What is practised", K::words, "shown before"},
    {S::goals, "/teaching/level", "Level", K::number, "1 to 5, 0: not said", 0, 5},
    {S::goals, "/teaching/step", "Step of the path", K::number, "1 to 9, 0: none", 0, 9},
    {S::goals, "/teaching/key_questions", "Key questions", K::list, "at most 5", 0, 0,
     "Keys of the answers: onset; double_vision; variation ..."},
    {S::goals, "/teaching/different", "What is different", K::words, "", 0, 0,
     "One sentence: what makes this patient different."},
    {S::goals, "/teaching/sources", "Sources", K::list, "between semicolons"},
    {S::goals, "/note", "Note", K::words, "for teachers"},
    {S::goals, "/seed", "Seed", K::number, "whole", 0, 9007199254740991.0},

    {S::on_file, "/on_file/pinhole", "Pinhole", K::words, "empty: as in health"},
    {S::on_file, "/on_file/stereo", "Stereopsis"},
    {S::on_file, "/on_file/pupils", "Pupils"},
    {S::on_file, "/on_file/lids", "Lids"},
    {S::on_file, "/on_file/versions", "Versions"},
    {S::on_file, "/on_file/fixation", "Fixation"},
    {S::on_file, "/on_file/torsion", "Torsion"},
    {S::on_file, "/on_file/colour", "Colour"},
    {S::on_file, "/on_file/fields", "Fields"},
    {S::on_file, "/on_file/media", "Media"},
    {S::on_file, "/on_file/discs", "Discs and maculae"},
    {S::on_file, "/on_file/sensation", "Feeling of the face"},
    {S::on_file, "/on_file/temporal_arteries", "Temporal arteries"},
    {S::on_file, "/on_file/gait", "Gait"},
    {S::on_file, "/on_file/blood_pressure", "Blood pressure"},
};

struct SectionWords {
  std::string_view title, words;
};
constexpr SectionWords kSectionWords[kSections] = {
    {"Story", "Who it is and what is said."},
    {"Appearance", "What is seen before any test."},
    {"Refraction", "What corrects each eye, and what is owned."},
    {"Deviation", "Fully dissociated, best correction on, muscles healthy."},
    {"Fusion", "What holds the eyes together, and how soon it comes back."},
    {"Sensory state", "Which eye leads, and what is not seen."},
    {"Muscles", "Of each eye; they act on top of the deviation."},
    {"Instability", "What moves by itself."},
    {"Expected", "What a good record says; compared with what the engine finds."},
    {"Goals and notes", "For learners before, for teachers after."},
    {"On file", "Found on request. Empty: told from the case, else as in health."},
};

std::string write_number(double value) {
  std::string text = to_text(value);
  if (text.starts_with("-")) text = "−" + text.substr(1);
  return text;
}

/// A minus sign or a hyphen, a comma or a point.
std::optional<double> read_number(std::string_view text) {
  std::string plain;
  constexpr std::string_view kMinus = "−";
  for (std::size_t i = 0; i < text.size();) {
    if (text.substr(i).starts_with(kMinus)) {
      plain += '-';
      i += kMinus.size();
      continue;
    }
    const char c = text[i++];
    if (c == ' ' || (c == '+' && plain.empty())) continue;
    plain += c == ',' ? '.' : c;
  }
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::vector<std::string> split(std::string_view text, char at) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = std::min(text.find(at), text.size());
    std::string_view part = text.substr(0, end);
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    parts.emplace_back(part);
    if (end == text.size()) return parts;
    text.remove_prefix(end + 1);
  }
}

std::string to_words(const nlohmann::json& value, FieldKind kind) {
  if (value.is_null()) return "";
  if (value.is_string()) return value.get<std::string>();
  if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
  if (value.is_number()) return write_number(value.get<double>());
  std::string text;
  if (!value.is_array()) return text;
  for (const auto& part : value) {
    if (!text.empty()) text += kind == FieldKind::list ? "; " : " / ";
    text += part.is_null() ? "–" : to_words(part, kind);
  }
  return text;
}

std::string say_allowed(const Field& field) {
  return fmt::format("{} to {}", write_number(field.least), write_number(field.most));
}

struct Read {
  ordered_json value;
  std::string problem;
};
Read read_one(const Field& field, std::string_view text) {
  const auto value = read_number(text);
  if (!value) {
    return {nullptr, fmt::format("“{}” is no number; allowed: {}", text, say_allowed(field))};
  }
  if (*value < field.least || *value > field.most) {
    return {nullptr,
            fmt::format("{} is outside; allowed: {}", write_number(*value), say_allowed(field))};
  }
  return {ordered_json::parse(to_json_number(*value).dump()), ""};
}

Read read_row(const Field& field, std::string_view text) {
  const std::size_t wanted = field.kind == FieldKind::three ? 3 : 2;
  const std::vector<std::string> parts = split(text, '/');
  const std::string_view form = wanted == 3 ? "blur / break / recovery" : "break / recovery";
  if (parts.size() != wanted) {
    return {nullptr, fmt::format("write {}, with strokes between; – where there is no blur", form)};
  }
  ordered_json row = ordered_json::array();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const bool no_blur =
        wanted == 3 && i == 0 &&
        (parts[i].empty() || parts[i] == "–" || parts[i] == "-" || parts[i] == "x");
    if (no_blur) {
      row.push_back(nullptr);
      continue;
    }
    Read one = read_one(field, parts[i]);
    if (!one.problem.empty()) return one;
    row.push_back(std::move(one.value));
  }
  return {std::move(row), ""};
}

Read read_text(const Field& field, std::string_view text) {
  switch (field.kind) {
    case FieldKind::number: return read_one(field, text);
    case FieldKind::three:
    case FieldKind::two: return read_row(field, text);
    case FieldKind::yes_no: return {text == "yes", ""};
    case FieldKind::list: {
      ordered_json list = ordered_json::array();
      for (const std::string& part : split(text, ';')) {
        if (!part.empty()) list.push_back(part);
      }
      return {std::move(list), ""};
    }
    case FieldKind::words:
    case FieldKind::choice: return {std::string{text}, ""};
  }
  return {};
}

}  // namespace

std::string_view title_of(Section section) {
  return kSectionWords[static_cast<std::size_t>(section)].title;
}

std::string_view words_of(Section section) {
  return kSectionWords[static_cast<std::size_t>(section)].words;
}

bool has_eyes(Section section) {
  return std::any_of(std::begin(kFields), std::end(kFields), [section](const Field& field) {
    return field.section == section && field.pointer.find('*') != std::string_view::npos;
  });
}

std::span<const Field> fields() { return kFields; }

std::string place_of(const Field& field, Eye eye) {
  std::string place{field.pointer};
  const std::size_t at = place.find('*');
  if (at != std::string::npos) place.replace(at, 1, eye == Eye::right ? "right" : "left");
  return place;
}

Section section_of(std::string_view place) {
  Section nearest = Section::story;
  std::size_t most = 0;
  for (const Field& field : kFields) {
    for (const Eye eye : kBothEyes) {
      const std::string own = place_of(field, eye);
      std::size_t same = 0;
      while (same < own.size() && same < place.size() && own[same] == place[same]) ++same;
      if (same > most) {
        most = same;
        nearest = field.section;
      }
    }
  }
  return nearest;
}

std::string written_text(const CaseDraft& draft, const Field& field, Eye eye) {
  const ordered_json* written = draft.find(place_of(field, eye));
  if (written == nullptr) return "";
  return to_words(nlohmann::json::parse(written->dump()), field.kind);
}

std::string default_text(const CaseDraft& draft, const Field& field, Eye eye) {
  return to_words(draft.value_in_force(place_of(field, eye)), field.kind);
}

std::string write_text(CaseDraft& draft, const Field& field, Eye eye, std::string_view text) {
  const std::string place = place_of(field, eye);
  const std::string label =
      place == field.pointer
          ? std::string{field.label}
          : fmt::format("{}, {}", field.label, eye == Eye::right ? "right" : "left");
  const bool required = field.pointer == "/title" || field.pointer == "/deviation/distance_pd" ||
                        field.pointer == "/deviation/near_pd";
  if (text.empty()) {
    if (required) return "cannot be left out";
    draft.clear(place, label);
    return "";
  }
  Read read = read_text(field, text);
  if (!read.problem.empty()) return read.problem;
  draft.set(place, std::move(read.value), label);
  return "";
}

}  // namespace redress::screens::editor
