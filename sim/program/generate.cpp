// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/generate.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <optional>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/basics/random.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/proximal.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/generated_words.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

using elementary::clamp;
using elementary::magnitude;
using nlohmann::json;

namespace {

constexpr std::uint64_t kMostDraws = 20'000;  // for one case
constexpr std::uint64_t kDrawsOfOne = 64;     // events kept for one person

// Draws of one person, by name of the trait.
enum class Trait : std::uint64_t {
  age,
  pupils,
  distance,
  ac_a,
  proximal,
  reserve,
  words,
  name,
  large
};

double uniform(std::uint64_t seed, std::uint64_t number, Trait trait) {
  return random_uniform(seed, Stream::person,
                        number * kDrawsOfOne + static_cast<std::uint64_t>(trait));
}
double normal(std::uint64_t seed, std::uint64_t number, Trait trait) {
  return random_normal(seed, Stream::person,
                       number * kDrawsOfOne + static_cast<std::uint64_t>(trait), 1);
}

double to_half(double pd) {
  const auto halves = static_cast<long>(2.0 * magnitude(pd) + 0.5);
  return (pd < 0.0 ? -0.5 : 0.5) * static_cast<double>(halves);
}
double to_whole(double x) {
  return static_cast<double>(static_cast<long>(x + (x < 0.0 ? -0.5 : 0.5)));
}

json skeleton(const DrawnPerson& p) {
  return {{"format", kCaseFormat},
          {"version", kCaseVersion},
          {"title", "drawn"},
          {"patient",
           {{"age_years", to_json_number(p.age_years)},
            {"interpupillary_distance_mm", to_json_number(p.interpupillary_mm)}}},
          {"deviation",
           {{"distance_pd", to_json_number(p.distance_pd)},
            {"near_pd", to_json_number(p.near_pd)},
            {"ac_a_pd_per_d", to_json_number(p.ac_a_pd_per_d)}}}};
}

// The near deviation at which this much proximal vergence is left over. It is one for one, nearly,
// and for large deviations found again.
void solve_near(DrawnPerson& p) {
  Case c;
  c.patient.age_years = p.age_years;
  c.patient.interpupillary_distance = Millimetres{p.interpupillary_mm};
  c.deviation.distance = PrismDioptres{p.distance_pd};
  c.deviation.ac_a_pd_per_d = p.ac_a_pd_per_d;
  c.deviation.near = PrismDioptres{p.distance_pd};
  for (int i = 0; i < 4; ++i) {
    c.deviation.near.value += p.proximal_pd - proximal_pd_at_40cm(c);
  }
  p.near_pd = to_half(c.deviation.near.value);
}

// ------------------------------------------------------------------------------- what is asked for

bool is_phoria_of(const GeneratedKind& kind, const DrawnPerson& p) {
  const double change = p.near_pd - p.distance_pd;
  switch (kind.pattern) {
    case Pattern::any: return true;
    case Pattern::none:
      return magnitude(p.distance_pd) < 2.0 && p.near_pd > -5.5 && p.near_pd < 2.0;
    case Pattern::basic: return magnitude(change) < 4.0;
    case Pattern::more_eso_near: return p.near_pd >= 4.0 && change >= 6.0;
    case Pattern::more_exo_near: return p.near_pd <= -7.0 && change <= -5.0;
  }
  return false;
}

// Easy is large. The size that counts is the larger of distance and near.
bool is_of_size(const GeneratedKind& kind, const DrawnPerson& p, double difficulty) {
  if (kind.pattern == Pattern::any || kind.pattern == Pattern::none) return true;
  const double size = std::max(magnitude(p.distance_pd), magnitude(p.near_pd));
  const double middle = kind.largest_pd + difficulty * (kind.least_pd - kind.largest_pd);
  const double width = 0.25 * (kind.largest_pd - kind.least_pd) + 0.5;
  return magnitude(size - middle) <= width;
}

std::optional<DrawnPerson> draw_of_kind(const GeneratedKind& kind, double difficulty,
                                        std::uint64_t seed, std::uint64_t number) {
  DrawnPerson p = draw_person(seed, number);
  if (kind.pattern != Pattern::any && kind.pattern != Pattern::none) {
    // Patients are not the population: the deviation at distance is drawn over what the diagnosis
    // spans, everything else as people come.
    p.age_years = to_whole(kind.least_age + uniform(seed, number, Trait::age) *
                                                (kind.greatest_age - kind.least_age));
    p.distance_pd =
        to_half(kind.least_distance_pd + uniform(seed, number, Trait::large) *
                                             (kind.greatest_distance_pd - kind.least_distance_pd));
    solve_near(p);
  }
  if (!is_phoria_of(kind, p) || !is_of_size(kind, p, difficulty)) return std::nullopt;
  return p;
}

// ---------------------------------------------------------------------------------- the whole case

json reserve(double blur, double break_point, double recovery) {
  return json::array({to_json_number(to_whole(blur)), to_json_number(to_whole(break_point)),
                      to_json_number(to_whole(recovery))});
}

// Reserves that go with the deviation: Morgan's for the healthy, twice the deviation and more if it
// is held with ease, less than it where it gives trouble.
void write_fusion(const GeneratedKind& kind, const DrawnPerson& p, double spread, json& out) {
  json& fusion = out["fusion"];
  const double near = magnitude(p.near_pd);
  const double far = magnitude(p.distance_pd);
  const double more = 2.0 + 4.0 * spread;
  switch (kind.holds) {
    case Holds::well:
      if (p.near_pd < -4.0) {
        fusion["near"]["base_out_pd"] = reserve(2 * near + more, 2 * near + 5 + more, 2 * near);
      }
      if (p.distance_pd < -3.0) {
        fusion["distance"]["base_out_pd"] = reserve(2 * far + more, 2 * far + 4 + more, 2 * far);
      }
      if (p.distance_pd > 2.0) {
        fusion["distance"]["base_in_pd"] =
            json::array({nullptr, to_json_number(to_whole(far + 6)), to_json_number(far + 2)});
      }
      break;
    case Holds::badly:
      if (p.near_pd < 0.0) {
        fusion["near"]["base_out_pd"] = reserve(near - 2, near + 3, near - 3);
      } else {
        fusion["near"]["base_in_pd"] = reserve(near - 2, near + 2, near - 4);
      }
      break;
    case Holds::sometimes:
      fusion["distance"]["base_out_pd"] = json::array({6, 12, -5});
      fusion["near"]["base_out_pd"] = json::array({10, 18, 6});
      fusion["recovery_time_constant_s"] = 0.6;
      out["sensory"] = {{"preference", 0.6},
                        {"suppression", {{"eye", "either"}, {"scotoma_diameter_deg", 5}}}};
      break;
    case Holds::never: {
      const bool right = spread < 0.5;
      fusion["present"] = false;
      out["sensory"] = {
          {"preferred_eye", right ? "left" : "right"},
          {"preference", 1.0},
          {"suppression", {{"eye", right ? "right" : "left"}, {"scotoma_diameter_deg", 5}}}};
      break;
    }
  }
  if (fusion.is_null()) out.erase("fusion");
}

json make_case(const GeneratedKind& kind, const DrawnPerson& p, std::uint64_t seed,
               std::uint64_t number) {
  json out = skeleton(p);
  const double spread = uniform(seed, number, Trait::reserve);
  write_fusion(kind, p, spread, out);
  write_words(kind, p.age_years, spread < 0.5, uniform(seed, number, Trait::words),
              uniform(seed, number, Trait::name), out);
  out["seed"] = random_bits(seed, Stream::person, number * kDrawsOfOne) >> 11U;
  out["note"] = fmt::format(
      "Drawn, not written: person {} of seed {}. Distance {:+.1f}, AC/A {:.1f} and proximal "
      "vergence "
      "{:.1f} were drawn, near {:+.1f} computed.",
      number, seed, p.distance_pd, p.ac_a_pd_per_d, p.proximal_pd, p.near_pd);
  return out;
}

// What the engine finds is what is claimed.
bool is_as_claimed(const GeneratedKind& kind, const Case& c) {
  Problems warnings;
  if (!check_meaning(c, &warnings).empty() || !warnings.empty()) return false;
  const ExaminationSetup setup = setup_of(c);
  const truth::Truth found = truth::calc_truth(
      setup, {c.patient.screen_distance.value, c.patient.near_working_distance.value},
      {.gaze = false, .reserves = true, .near_point = false});
  if (kind.found_as.empty()) return true;
  return std::any_of(kind.found_as.begin(), kind.found_as.end(), [&](std::string_view words) {
    return found.diagnosis.find(words) != std::string::npos;
  });
}

bool is_unlike(const json& one, const json& other) {
  const auto number = [](const json& c, const char* key) {
    return c["deviation"][key].get<double>();
  };
  const double apart = magnitude(number(one, "distance_pd") - number(other, "distance_pd")) +
                       magnitude(number(one, "near_pd") - number(other, "near_pd"));
  return one["patient"]["name"] != other["patient"]["name"] && one["title"] != other["title"] &&
         apart >= 1.0;
}

}  // namespace

// Distance: 1 exo, standard deviation 2 (Morgan 1944). Pupils: adult mean 63.4, 3.8 (Dodgson 2004);
// children's are smaller, 50 to 58 from 4 to 12 (clinical notes). AC/A: 4, standard deviation 2
// (Morgan), cut at 0.5 and 9. Proximal: between what Morgan's means leave to this engine, 3, and
// what they leave without a lag of accommodation, 1.5; 0 to 8 in ordinary patients.
DrawnPerson draw_person(std::uint64_t seed, std::uint64_t number) {
  DrawnPerson p;
  p.age_years = to_whole(18.0 + 22.0 * uniform(seed, number, Trait::age));
  p.interpupillary_mm =
      to_whole(clamp(63.4 + 3.8 * normal(seed, number, Trait::pupils), 52.0, 74.0));
  p.distance_pd = to_half(clamp(-1.0 + 2.0 * normal(seed, number, Trait::distance), -8.0, 6.0));
  p.ac_a_pd_per_d =
      0.1 * to_whole(10.0 * clamp(4.0 + 1.8 * normal(seed, number, Trait::ac_a), 0.5, 9.0));
  p.proximal_pd = clamp(2.4 + 1.2 * normal(seed, number, Trait::proximal), 0.3, 7.5);
  solve_near(p);
  return p;
}

const std::vector<std::string_view>& generated_diagnoses() {
  static const std::vector<std::string_view> kWords = [] {
    std::vector<std::string_view> all;
    for (const GeneratedKind& kind : generated_kinds()) all.push_back(kind.word);
    return all;
  }();
  return kWords;
}

Result<std::vector<json>> generate_cases(std::string_view diagnosis, double difficulty,
                                         std::uint64_t seed, int count,
                                         const std::function<bool(int)>& goes_on) {
  const std::vector<GeneratedKind>& kinds = generated_kinds();
  const auto kind = std::find_if(kinds.begin(), kinds.end(),
                                 [&](const GeneratedKind& k) { return k.word == diagnosis; });
  if (kind == kinds.end()) {
    std::string all;
    for (const std::string_view word : generated_diagnoses()) {
      all += (all.empty() ? "" : ", ") + std::string(word);
    }
    return Problems{{"/diagnosis", "is " + short_text(json(diagnosis)) + "; allowed: " + all}};
  }
  std::vector<json> cases;
  std::uint64_t number = 0;
  std::uint64_t last_found = 0;
  while (static_cast<int>(cases.size()) < count) {
    if (number - last_found > kMostDraws) {
      return Problems{{"", fmt::format("no {} of difficulty {} was found in {} draws; allowed: "
                                       "another difficulty",
                                       diagnosis, to_text(difficulty), kMostDraws)}};
    }
    const std::uint64_t tried = number++;
    const auto person = draw_of_kind(*kind, difficulty, seed, tried);
    if (!person) continue;
    if (goes_on && !goes_on(static_cast<int>(cases.size()))) break;
    json drawn = make_case(*kind, *person, seed, tried);
    const Result<Case> read = parse_case(drawn);
    if (!read || (!cases.empty() && !is_unlike(drawn, cases.back()))) continue;
    if (!is_as_claimed(*kind, read.value())) continue;
    cases.push_back(std::move(drawn));
    last_found = number;
  }
  return cases;
}

std::string name_generated_file(std::string_view diagnosis, std::uint64_t seed, int number) {
  std::string name{diagnosis};
  std::replace(name.begin(), name.end(), ' ', '_');
  return fmt::format("{}_{}_{:04}.json", name, seed, number);
}

int generate(const GenerateOptions& options) {
  if (!options.folder.empty()) {
    // Before the work, not after it.
    std::error_code error;
    std::filesystem::create_directories(options.folder, error);
    if (!std::filesystem::is_directory(options.folder, error)) {
      return report(options.folder, Problem{"",
                                            "cannot be made a folder; allowed: a folder, or "
                                            "a name that is free"});
    }
  }
  const auto cases =
      generate_cases(options.diagnosis, options.difficulty, options.seed, options.count);
  if (!cases) return report("generate", cases.problems());
  int number = 0;
  for (const json& one : cases.value()) {
    ++number;
    if (options.folder.empty()) {
      fmt::print("{}\n", one.dump());
      continue;
    }
    const std::string path =
        options.folder + "/" + name_generated_file(options.diagnosis, options.seed, number);
    if (const auto problem = write_whole_file(path, one.dump(2) + "\n")) {
      return report(path, *problem);
    }
  }
  return 0;
}

}  // namespace redress::program
