// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/on_file.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/cases/spectacles.hpp"

namespace redress {

namespace {

using elementary::magnitude;

std::string_view capital_name(Eye eye) { return eye == Eye::right ? "Right" : "Left"; }

std::string write_acuity(const Case& c) {
  return fmt::format("right {:.2f} left {:.2f} logMAR, corrected",
                     c.refraction[Eye::right].acuity_logmar, c.refraction[Eye::left].acuity_logmar);
}

// Of two foveas that are used together. Amblyopia and suppression coarsen it, without fusion there
// is none.
std::string write_stereo(const Case& c) {
  constexpr double kPoorerBy = 0.2;  // logMAR: two lines
  const double apart =
      c.refraction[Eye::right].acuity_logmar - c.refraction[Eye::left].acuity_logmar;
  if (!c.fusion.present) return "None found.";
  if (c.sensory.suppression_eye != AffectedEye::none || c.sensory.anomaly.value != 0.0) {
    return "400 seconds of arc.";
  }
  return magnitude(apart) > kPoorerBy ? "200 seconds of arc." : "60 seconds of arc.";
}

std::string write_pupils(const Case& c) {
  std::string words;
  for (const Eye eye : kBothEyes) {
    if (!c.pupils.fixed[eye]) continue;
    words += fmt::format("{} fixed at {:.1f} mm. ", capital_name(eye), c.pupils.fixed[eye]->value);
  }
  if (const double more = c.pupils.anisocoria.value; more != 0.0) {
    words += fmt::format("{} larger by {:.1f} mm in any light. ", more > 0.0 ? "Right" : "Left",
                         magnitude(more));
  }
  return words.empty() ? "Equal, brisk, no relative defect." : words + "No relative defect.";
}

std::string write_lids(const Case& c) {
  std::string words;
  for (const Eye eye : kBothEyes) {
    const double low = c.lids.ptosis[eye].value;
    if (low > 0.0) words += fmt::format("{} upper lid {:.1f} mm low. ", capital_name(eye), low);
  }
  if (words.empty()) return "Level, none droops.";
  words.pop_back();
  return words;
}

std::string write_fixation(const Case& c) {
  if (c.sensory.eccentric_eye != AffectedEye::none) {
    const Eye eye = c.sensory.eccentric_eye == AffectedEye::right ? Eye::right : Eye::left;
    const double nasal = c.sensory.eccentric_nasal.value;
    return fmt::format("{} beside the fovea by {:.1f}°, {}.", capital_name(eye), magnitude(nasal),
                       nasal >= 0.0 ? "nasal" : "temporal");
  }
  const bool beats =
      c.instability.latent_nystagmus.value > 0.0 || c.instability.infantile.amplitude.value > 0.0;
  return beats ? "Central, unsteady." : "Central, steady.";
}

// As two Maddox rods find it: with the eyes apart, the left one looking straight ahead. Less than a
// degree is not noticed.
std::string write_torsion(const ExaminationSetup& setup) {
  constexpr double kNoticedDeg = 1.0;
  if (!setup.patient.muscles.in_force()) return "The two lines stand parallel.";
  Opening apart;
  apart.covered = Eye::right;
  const Observation seen = Examination(setup, {1, 0.0, false}, apart).observe();
  const double right_out = seen.eye.right.torsion_deg;
  const double left_out = -seen.eye.left.torsion_deg;
  const double out = right_out + left_out;
  if (magnitude(out) < kNoticedDeg) return "The two lines stand parallel.";
  const bool right_more = magnitude(right_out) >= magnitude(left_out);
  return fmt::format("The lines are tilted by {:.0f}°: {} eye rolled {}.", magnitude(out),
                     right_more ? "right" : "left", out > 0.0 ? "out" : "in");
}

constexpr std::string_view kRequests[] = {
    "acuity", "pinhole",   "said_acuity",       "refraction", "spectacles",    "stereo", "pupils",
    "lids",   "versions",  "fixation",          "torsion",    "colour",        "fields", "media",
    "discs",  "sensation", "temporal_arteries", "gait",       "blood_pressure"};

// Of what the case's numbers do not decide.
struct Usual {
  std::string_view what;
  std::string_view words;
};
constexpr Usual kUsual[] = {
    {"pinhole", "No better on either side."},
    {"said_acuity", "The same when encouraged."},
    {"versions", "Not written. Move the target and look."},
    {"colour", "Full on both sides."},
    {"fields", "Full to confrontation on both sides."},
    {"media", "Clear."},
    {"discs", "Flat, sharp margins; maculae without a finding."},
    {"sensation", "Even on both sides of the face."},
    {"temporal_arteries", "Soft, with a pulse, not tender."},
    {"gait", "Steady."},
    {"blood_pressure", "124/78 mmHg."},
};

std::string find_words(const Case& c, const ExaminationSetup& setup, std::string_view what) {
  for (const auto& [key, words] : c.on_file) {
    if (key == what) return words;
  }
  for (const Usual& usual : kUsual) {
    if (usual.what == what) return std::string{usual.words};
  }
  if (what == "acuity") return write_acuity(c);
  if (what == "refraction") {
    return fmt::format("right {} left {} DS", format_refraction(c, Eye::right),
                       format_refraction(c, Eye::left));
  }
  if (what == "spectacles") {
    return fmt::format("right {} left {}", format_spectacle_lens(c, Eye::right),
                       format_spectacle_lens(c, Eye::left));
  }
  if (what == "stereo") return write_stereo(c);
  if (what == "pupils") return write_pupils(c);
  if (what == "lids") return write_lids(c);
  if (what == "fixation") return write_fixation(c);
  return write_torsion(setup);
}

}  // namespace

std::span<const std::string_view> file_requests() { return kRequests; }

std::vector<std::pair<std::string, std::string>> make_file(const Case& the_case,
                                                           const ExaminationSetup& setup) {
  std::vector<std::pair<std::string, std::string>> file;
  for (const std::string_view request : kRequests) {
    file.emplace_back(request, find_words(the_case, setup, request));
  }
  for (const auto& entry : the_case.on_file) {
    const bool listed =
        std::find(std::begin(kRequests), std::end(kRequests), entry.first) != std::end(kRequests);
    if (!listed) file.push_back(entry);
  }
  return file;
}

}  // namespace redress
