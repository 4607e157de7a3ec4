// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/instability.hpp"

#include <string>

#include "sim/basics/elementary.hpp"
#include "sim/cases/case_words.hpp"

namespace redress {

using nlohmann::json;

namespace {

template <class Unit>
json number(Quantity<Unit> quantity) {
  return to_json_number(quantity.value);
}

template <class Unit>
json number(const std::optional<Quantity<Unit>>& quantity) {
  return quantity ? number(*quantity) : json(nullptr);
}

template <class Q>
void read_optional(ObjectReader& reader, std::string_view key, double low, double high,
                   std::optional<Q>& to) {
  if (const auto found = reader.optional_number(key, low, high)) to = Q{*found};
}

template <class Q>
void read_value(ObjectReader& reader, std::string_view key, double low, double high, Q& to) {
  to = Q{reader.number(key, low, high, to.value)};
}

void read_nystagmus(ObjectReader reader, CaseInfantileNystagmus& n) {
  read_value(reader, "amplitude_deg", 0, 10, n.amplitude);
  n.frequency_hz = reader.number("frequency_hz", 2, 5, n.frequency_hz);
  read_value(reader, "null_deg", -40, 40, n.null);
  n.torsional_share = reader.number("torsional_share", 0, 1, n.torsional_share);
  reader.finish();
}

void read_square_waves(ObjectReader reader, CaseSquareWaveJerks& jerks) {
  jerks.per_minute = reader.number("per_minute", 0, 120, jerks.per_minute);
  read_value(reader, "size_deg", 0.1, 5, jerks.size);
  reader.finish();
}

// The same for each eye of a small object.
template <class T, class Read>
void read_eyes(ObjectReader reader, PerEye<T>& values, Read&& read) {
  for (const Eye eye : kBothEyes) read(reader, name_of(eye), values[eye]);
  reader.finish();
}

template <class T>
json eyes_json(const PerEye<T>& values) {
  return {{"right", number(values.right)}, {"left", number(values.left)}};
}

}  // namespace

void read_instability(ObjectReader reader, CaseInstability& instability) {
  read_value(reader, "latent_nystagmus_deg", 0, 10, instability.latent_nystagmus);
  read_eyes(reader.object("dvd_pd"), instability.dvd,
            [](ObjectReader& r, const char* key, auto& to) { read_value(r, key, 0, 50, to); });
  read_nystagmus(reader.object("infantile_nystagmus"), instability.infantile);
  read_square_waves(reader.object("square_wave_jerks"), instability.square_waves);
  read_eyes(reader.object("fixation_sd_deg"), instability.fixation_sd,
            [](ObjectReader& r, const char* key, auto& to) { read_optional(r, key, 0, 3, to); });
  instability.attention = reader.number("attention", 0, 1, instability.attention);
  instability.blink_on_uncovering =
      reader.number("blink_on_uncovering", 0, 1, instability.blink_on_uncovering);
  instability.resists_cover =
      reader.enumerated("resists_cover", kOneEyeWords, instability.resists_cover);
  read_value(reader, "session_spread_pd", 0, 5, instability.session_spread);
  reader.finish();
}

void read_pupils(ObjectReader reader, CasePupils& pupils) {
  read_value(reader, "anisocoria_mm", -4, 4, pupils.anisocoria);
  read_eyes(reader.object("fixed_mm"), pupils.fixed,
            [](ObjectReader& r, const char* key, auto& to) { read_optional(r, key, 1, 9, to); });
  reader.finish();
}

void read_lids(ObjectReader reader, CaseLids& lids) {
  read_eyes(reader.object("ptosis_mm"), lids.ptosis,
            [](ObjectReader& r, const char* key, auto& to) { read_value(r, key, 0, 10, to); });
  reader.finish();
}

json to_json(const CaseInstability& instability) {
  const CaseInfantileNystagmus& n = instability.infantile;
  const CaseSquareWaveJerks& jerks = instability.square_waves;
  return {{"latent_nystagmus_deg", number(instability.latent_nystagmus)},
          {"dvd_pd", eyes_json(instability.dvd)},
          {"infantile_nystagmus",
           {{"amplitude_deg", number(n.amplitude)},
            {"frequency_hz", to_json_number(n.frequency_hz)},
            {"null_deg", number(n.null)},
            {"torsional_share", to_json_number(n.torsional_share)}}},
          {"square_wave_jerks",
           {{"per_minute", to_json_number(jerks.per_minute)}, {"size_deg", number(jerks.size)}}},
          {"fixation_sd_deg", eyes_json(instability.fixation_sd)},
          {"attention", to_json_number(instability.attention)},
          {"blink_on_uncovering", to_json_number(instability.blink_on_uncovering)},
          {"resists_cover", find_name(kOneEyeWords, instability.resists_cover)},
          {"session_spread_pd", number(instability.session_spread)}};
}

json to_json(const CasePupils& pupils) {
  return {{"anisocoria_mm", number(pupils.anisocoria)}, {"fixed_mm", eyes_json(pupils.fixed)}};
}

json to_json(const CaseLids& lids) { return {{"ptosis_mm", eyes_json(lids.ptosis)}}; }

void check_instability(const Case& the_case, Problems& problems) {
  const bool far_given = the_case.deviation.far_distance.has_value();
  const auto& points = the_case.deviation.by_distance;
  for (std::size_t i = 0; far_given && i < points.size(); ++i) {
    if (elementary::magnitude(1.0 / points[i].first.value - 1.0 / 20.0) >= 1e-6) continue;
    problems.push_back({"/deviation/by_distance_pd/" + std::to_string(i),
                        "is for " + to_text(points[i].first.value) +
                            " m, which far_distance_pd gives; allowed: other distances"});
  }
}

}  // namespace redress
