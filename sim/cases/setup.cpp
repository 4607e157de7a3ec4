// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/setup.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/cases/muscle_setup.hpp"
#include "sim/cases/proximal.hpp"
#include "sim/patient/fusion.hpp"

namespace redress {

namespace {

using elementary::clamp;
using elementary::magnitude;

patient::Reserve to_reserve(const CaseReserve& r) { return {r.blur, r.break_point, r.recovery}; }

bool affects(AffectedEye affected, Eye eye) {
  return affected == AffectedEye::either ||
         affected == (eye == Eye::right ? AffectedEye::right : AffectedEye::left);
}

patient::Tonus tonus_of(const Case& c, const patient::Parameters& p) {
  patient::Tonus t = solve_tonus(c);
  if (c.deviation.by_distance.empty()) return t;

  // Between 6 m and 40 cm the solution above holds; other points correct it where they stand.
  patient::Parameters plain = p;
  plain.tonus = t;
  std::vector<patient::TonusCorrection> points{{1.0 / 6.0, 0.0}, {1.0 / 0.40, 0.0}};
  for (const auto& [distance, deviation] : c.deviation.by_distance) {
    const double nearness = 1.0 / distance.value;
    const double found = patient::calc_at_distance(plain, nearness).deviation_deg;
    points.push_back({nearness, to_degrees(deviation).value - found});
  }
  std::stable_sort(points.begin(), points.end(), [](const auto& a, const auto& b) {
    return a.nearness_d < b.nearness_d;  // no ties: repeated distances are refused
  });
  t.corrections = static_cast<std::int32_t>(std::min(points.size(), t.correction.size()));
  std::copy_n(points.begin(), t.corrections, t.correction.begin());
  return t;
}

patient::Fusion fusion_of(const Case& c) {
  const CaseFusion& f = c.fusion;
  patient::Fusion fusion;
  fusion.present = f.present;
  fusion.distance = {to_reserve(f.distance.base_out), to_reserve(f.distance.base_in)};
  fusion.near = {to_reserve(f.near.base_out), to_reserve(f.near.base_in)};
  fusion.right_supra_break = f.right_supra.break_point;
  fusion.right_supra_recovery = f.right_supra.recovery;
  fusion.right_infra_break = f.right_infra.break_point;
  fusion.right_infra_recovery = f.right_infra.recovery;
  fusion.anomaly_deg = to_degrees(c.sensory.anomaly).value;
  fusion.release_s = f.release_time_constant.value;
  fusion.recovery_s = f.recovery_time_constant.value;
  return fusion;
}

patient::Sensory sensory_of(const Case& c) {
  const CaseSensory& from = c.sensory;
  patient::Sensory s;
  s.preferred = from.preferred_eye;
  s.preference = from.preference;
  const double radius = 0.5 * from.scotoma_diameter.value;
  const double anomaly = magnitude(to_degrees(from.anomaly).value);
  const double whole = std::max(magnitude(to_degrees(c.deviation.distance).value),
                                magnitude(to_degrees(c.deviation.near).value));
  // While the eyes are apart, suppression reaches as far as the deviation. A scotoma of one eye,
  // not of whichever is not fixing, stays while the eyes are held, and reaches as far as the angle
  // at which they are held.
  s.suppression_reach_deg = radius + std::max(whole, anomaly) + calc_muscle_deviation_deg(c);

  const double best = std::min(c.refraction.right.acuity_logmar, c.refraction.left.acuity_logmar);
  for (const Eye eye : kBothEyes) {
    s.suppresses[eye] = affects(from.suppression_eye, eye);
    const bool stays = s.suppresses[eye] && from.suppression_eye != AffectedEye::either;
    s.scotoma_reach_deg[eye] = stays && radius > 0.0 ? radius + anomaly : 0.0;
    s.acuity_logmar[eye] = c.refraction[eye].acuity_logmar;
    // A poorer eye is slower and lands less surely: +77 ms in strabismic amblyopia (Gambacorta et
    // al. 2018), +25 ms in anisometropic (Perdziak et al. 2014); scaling with the difference in
    // acuity is calibration.
    const double poorer = clamp((s.acuity_logmar[eye] - best) / 0.5, 0.0, 1.0);
    const bool strabismic = !c.fusion.present || anomaly > 0.0;
    s.latency_extra_s[eye] = poorer * (strabismic ? 0.077 : 0.025);
    s.landing_sd_deg[eye] = poorer * 0.4;
  }
  return s;
}

std::string format_sphere(double power) { return fmt::format("{:+.2f}", power); }

std::vector<std::pair<std::string, std::string>> file_of(const Case& c) {
  const auto acuity = [&](Eye eye) {
    return fmt::format("{:.2f}", c.refraction[eye].acuity_logmar);
  };
  const auto sphere = [&](Eye eye) { return format_sphere(c.refraction[eye].sphere.value); };
  std::vector<std::pair<std::string, std::string>> file;
  file.emplace_back("acuity", fmt::format("right {} left {} logMAR, corrected", acuity(Eye::right),
                                          acuity(Eye::left)));
  file.emplace_back("refraction",
                    fmt::format("right {} left {} DS", sphere(Eye::right), sphere(Eye::left)));
  const auto worn = [&](Eye eye) {
    const auto& lens = c.spectacles.lens[eye];
    return lens ? format_sphere(lens->sphere.value) : std::string{"none"};
  };
  file.emplace_back("spectacles",
                    fmt::format("right {} left {}", worn(Eye::right), worn(Eye::left)));
  return file;
}

}  // namespace

ExaminationSetup setup_of(const Case& c) {
  ExaminationSetup setup;
  patient::Parameters& p = setup.patient;
  p.age_years = c.patient.age_years;
  p.interpupillary_mm = c.patient.interpupillary_distance.value;
  p.accommodation.amplitude_d = calc_amplitude_d(c.patient.age_years);
  p.fusion = fusion_of(c);
  p.sensory = sensory_of(c);
  p.instability.attention = c.instability.attention;
  p.muscles = muscles_of(c);
  p.tonus = tonus_of(c, p);

  RoomParameters& r = setup.room;
  r.interpupillary = c.patient.interpupillary_distance;
  r.spectacles_owned = c.spectacles.owned();
  r.spectacles_worn = c.spectacles.worn_at_start();
  for (const Eye eye : kBothEyes) {
    r.refraction_d[eye] = c.refraction[eye].sphere.value;
    const auto& lens = c.spectacles.lens[eye];
    r.spectacles_d[eye] = lens ? lens->sphere.value : 0.0;
  }
  setup.answers = c.answers;
  setup.on_file = file_of(c);
  return setup;
}

}  // namespace redress
