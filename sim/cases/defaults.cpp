// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Clinical units. The values are set in make_healthy_case() and in the member initialisers of
// sim/cases/case.hpp; the table beside them says where they come from. A test holds that each value
// of a healthy case has a line in the table.
#include "sim/cases/defaults.hpp"

namespace redress {
namespace {

struct DefaultSource {
  std::string_view pattern;  // JSON pointer; "*" stands for one token
  std::string_view source;
};

constexpr std::string_view kMorgan =
    "Morgan's expected values, as tabled by Scheiman & Wick; smooth prism, young adults";
constexpr std::string_view kHealthy = "a healthy patient has none";
constexpr std::string_view kHealthyMuscle = "a healthy muscle, by definition of the scale";
constexpr std::string_view kNotWritten = "not written: nothing to tell";

// First match counts.
constexpr DefaultSource kSources[] = {
    {"/note", kNotWritten},
    {"/seed", "any number will do"},
    {"/patient/age_years", "a young adult: judgement"},
    {"/patient/name", kNotWritten},
    {"/patient/sex", "any face"},
    {"/patient/appearance", "any face"},
    {"/patient/story", kNotWritten},
    {"/patient/answers", kNotWritten},
    {"/patient/head_posture/seeks_comfort", "holds its head upright"},
    {"/patient/head_posture/*", "upright"},
    {"/patient/interpupillary_distance_mm", "adult mean 63 mm: Dodgson 2004"},
    {"/patient/near_working_distance_cm",
     "40 cm, the usual near test distance: common practice, no source"},
    {"/patient/screen_distance_cm", "70 cm, arm's length: common practice, no source"},
    {"/refraction/spectacles/right", "owns no spectacles"},
    {"/refraction/spectacles/left", "owns no spectacles"},
    {"/refraction/spectacles/worn", "worn when any are owned"},
    {"/refraction/spectacles/optical_centres_mm", "centred on the pupils"},
    {"/refraction/spectacles/vertex_distance_mm",
     "12 mm, the usual fitting distance: common practice, no source"},
    {"/refraction/spectacles/design", "single vision"},
    {"/refraction/spectacles/add_d", "no addition"},
    {"/refraction/spectacles/contact_lenses", "spectacles, not contact lenses"},
    {"/refraction/spectacles/segment_top_mm",
     "5 mm below the pupil, about the lower lid: common practice, no source"},
    {"/refraction/spectacles/fitting_cross_mm",
     "at the pupil, as progressive lenses are fitted: common practice, no source"},
    {"/refraction/spectacles/corridor_mm", "14 mm, a usual length: from memory"},
    {"/refraction/spectacles/inset_mm", "2.5 mm, for 40 cm: common practice, no source"},
    {"/refraction/spectacles/*/optical_centre_height_mm", "level with the pupil"},
    {"/refraction/spectacles/*/*", "no power in that lens"},
    {"/refraction/*/acuity_logmar", "logMAR 0.0 (6/6): common practice, no source"},
    {"/refraction/*/*", "no refractive error"},
    {"/deviation/distance_pd", kMorgan},
    {"/deviation/near_pd", kMorgan},
    {"/deviation/vertical_pd", "mean 0.05, SD 0.76 prism dioptres: Makgaba 2006"},
    {"/deviation/ac_a_pd_per_d", "4, range 3 to 5: Morgan's expected values"},
    {"/deviation/far_distance_pd", "follows from distance, near and AC/A"},
    {"/deviation/by_distance_pd", "follows from distance, near and AC/A"},
    {"/accommodation/spasm_d", kHealthy},
    {"/fusion/present", "a healthy patient fuses"},
    {"/fusion/distance/base_in_pd",
     "Morgan's expected values, as tabled by Scheiman & Wick; a blur on distance base-in would "
     "itself be a finding, so none"},
    {"/fusion/far_distance", "as at 6 m"},
    {"/fusion/fatigue", kHealthy},
    {"/fusion/tenacious", kHealthy},
    {"/fusion/vertical/*",
     "total break 5.5 to 6, recovery 3.5 to 4: Ulyat, Firth & Griffiths 2004, Ogle & Prangen 1953; "
     "rather less than half of it each way"},
    {"/fusion/release_time_constant_s",
     "between 0.76 s (90 % in 1.75 s: Economides, Adams & Horton 2017) and about 1.1 s "
     "(steady after 3.33 s: Tatara et al. 2025)"},
    {"/fusion/recovery_time_constant_s",
     "closed-loop 0.2 to 0.3 s: Krishnan & Stark 1977, Schor 1979, from memory; gives 19 to 20 "
     "degrees per second for a step of 4 degrees"},
    {"/fusion/*/*", kMorgan},
    {"/sensory/preferred_eye", "either would do: judgement"},
    {"/sensory/preference", "a clear sighting preference: judgement"},
    {"/sensory/*", kHealthy},
    {"/sensory/*/*", kHealthy},
    {"/muscles/tilt_gain", "the head-tilt response of fresh palsies: Simonsz 1985"},
    {"/muscles/skew_pd", kHealthy},
    {"/muscles/fatigability/*", kHealthy},
    {"/muscles/*/*/limit_stiffness", "stiffness of a stop, used only with a limit: judgement"},
    {"/muscles/*/*/*", kHealthyMuscle},
    {"/instability/attention", "a cooperative adult"},
    {"/instability/infantile_nystagmus/frequency_hz",
     "2 to 5 Hz: Abadi, from memory; used only with an amplitude"},
    {"/instability/infantile_nystagmus/null_deg", "straight ahead: judgement"},
    {"/instability/infantile_nystagmus/torsional_share",
     "median of 13 patients, 0.08 to 0.94: J Neuroophthalmol 2002;22:22"},
    {"/instability/square_wave_jerks/size_deg",
     "about 0.5 degrees (Leigh & Zee, from memory); used only with a rate"},
    {"/instability/fixation_sd_deg/*", "follows from the eye's acuity"},
    {"/instability/blink_on_uncovering", "not modelled unless written"},
    {"/instability/session_spread_pd", "none unless written; 0.58 is usual: Paulus et al. 2019"},
    {"/instability/*", kHealthy},
    {"/instability/*/*", kHealthy},
    {"/pupils/*", kHealthy},
    {"/pupils/fixed_mm/*", "reacts to light and near"},
    {"/lids/ptosis_mm/*", kHealthy},
    {"/expected/red_flag", "none"},
    {"/expected/plan", "not written: any plan with advice earns the mark"},
    {"/expected/harmful", "where there is a red flag, exercises and prism in the place of help"},
    {"/expected/also_without", "with the glasses alone"},
    {"/expected/reserve_criterion", "Sheard's rule for exo, one to one for eso: from memory"},
    {"/expected/tests", "the four-dioptre test where acuity is unequal or an eye is suppressed"},
    {"/teaching/key_questions", "those of every history: since when, and is it double"},
    {"/teaching/*", kNotWritten},
    {"/on_file", kNotWritten},
    {"/expected/*", "not written: not marked"},
};

bool matches(std::string_view pattern, std::string_view pointer) {
  while (!pattern.empty() && !pointer.empty()) {
    pattern.remove_prefix(1);  // both stand at a slash
    pointer.remove_prefix(1);
    const std::string_view wanted = pattern.substr(0, pattern.find('/'));
    const std::string_view found = pointer.substr(0, pointer.find('/'));
    if (wanted != "*" && wanted != found) return false;
    pattern.remove_prefix(wanted.size());
    pointer.remove_prefix(found.size());
  }
  return pattern.empty() && pointer.empty();
}

}  // namespace

Case make_healthy_case() {
  Case healthy;
  healthy.deviation.distance = PrismDioptres{-1};
  healthy.deviation.near = PrismDioptres{-3};

  CaseFusion& fusion = healthy.fusion;
  fusion.distance.base_out = {PrismDioptres{9}, PrismDioptres{19}, PrismDioptres{10}};
  fusion.distance.base_in = {std::nullopt, PrismDioptres{7}, PrismDioptres{4}};
  fusion.near.base_out = {PrismDioptres{17}, PrismDioptres{21}, PrismDioptres{11}};
  fusion.near.base_in = {PrismDioptres{13}, PrismDioptres{21}, PrismDioptres{13}};
  fusion.right_supra = {PrismDioptres{3}, PrismDioptres{1.5}};
  fusion.right_infra = {PrismDioptres{3}, PrismDioptres{1.5}};
  fusion.release_time_constant = Seconds{0.9};
  fusion.recovery_time_constant = Seconds{0.2};
  return healthy;
}

std::string_view find_default_source(std::string_view pointer) {
  for (const DefaultSource& entry : kSources) {
    if (matches(entry.pattern, pointer)) return entry.source;
  }
  return {};
}

}  // namespace redress
