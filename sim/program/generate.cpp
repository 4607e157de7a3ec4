// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/generate.hpp"

#include <algorithm>
#include <filesystem>
#include <optional>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/basics/random.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/generated_words.hpp"
#include "sim/program/spread.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

using elementary::clamp;
using elementary::magnitude;
using nlohmann::json;

namespace {

constexpr std::uint64_t kMostDraws = 20'000;  // for one case
constexpr std::size_t kAhead = 32;            // drawn and examined side by side

json skeleton(const DrawnPerson& p) {
  const auto eye = [&](Eye which) {
    return json{{"acuity_logmar", to_json_number(p.acuity_logmar[which])}};
  };
  return {{"format", kCaseFormat},
          {"version", kCaseVersion},
          {"title", "drawn"},
          {"patient",
           {{"age_years", to_json_number(p.age_years)},
            {"interpupillary_distance_mm", to_json_number(p.interpupillary_mm)}}},
          {"refraction", {{"right", eye(Eye::right)}, {"left", eye(Eye::left)}}},
          {"deviation",
           {{"distance_pd", to_json_number(p.distance_pd)},
            {"near_pd", to_json_number(p.near_pd)},
            {"ac_a_pd_per_d", to_json_number(p.ac_a_pd_per_d)}}}};
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
    p.distance_pd =
        to_half(kind.least_distance_pd + draw_uniform(seed, number, Trait::large) *
                                             (kind.greatest_distance_pd - kind.least_distance_pd));
    set_age(p, to_whole(kind.least_age + draw_uniform(seed, number, Trait::age) *
                                             (kind.greatest_age - kind.least_age)));
  }
  if (!is_phoria_of(kind, p) || !is_of_size(kind, p, difficulty)) return std::nullopt;
  return p;
}

// ---------------------------------------------------------------------------------- the whole case

json write_reserve(const DrawnReserve& r, bool blurs = true) {
  return json::array({blurs ? to_json_number(r.blur_pd) : json(nullptr), to_json_number(r.break_pd),
                      to_json_number(r.recovery_pd)});
}

DrawnReserve at_least(DrawnReserve r, DrawnReserve least) {
  r.break_pd = std::max({r.break_pd, least.break_pd, least.blur_pd});
  r.blur_pd = std::max(r.blur_pd, least.blur_pd);
  r.recovery_pd = std::max(r.recovery_pd, least.recovery_pd);
  return r;
}

DrawnReserve whole(double blur, double break_point, double recovery) {
  return {to_whole(blur), to_whole(break_point), to_whole(recovery)};
}

// The person's own reserves, by what the deviation does: at least what its rule asks for where it
// is held with ease (exo: twice the deviation, Sheard; eso: the recovery as much as the deviation,
// 1:1), less than it where it gives trouble.
void write_fusion(const GeneratedKind& kind, DrawnPerson p, double spread, json& out) {
  json& fusion = out["fusion"];
  const double near = magnitude(p.near_pd);
  const double far = magnitude(p.distance_pd);
  switch (kind.holds) {
    case Holds::as_drawn: break;
    case Holds::well:
      if (p.near_pd < 0.0) {
        p.near_base_out = at_least(p.near_base_out, whole(2 * near + 1, 2 * near + 3, near + 1));
      } else {
        p.near_base_in = at_least(p.near_base_in, whole(near + 2, near + 4, near + 1));
      }
      if (p.distance_pd < 0.0) {
        p.distance_base_out =
            at_least(p.distance_base_out, whole(2 * far + 1, 2 * far + 3, far + 1));
      } else {
        p.distance_base_in = at_least(p.distance_base_in, whole(1, far + 3, far + 1));
      }
      break;
    case Holds::badly:
      if (p.near_pd < 0.0) {
        p.near_base_out = whole(std::max(near - 2, 1.0), near + 3, near - 3);
      } else {
        p.near_base_in = whole(std::max(near - 2, 1.0), near + 2, near - 4);
      }
      break;
    case Holds::sometimes:
      fusion["distance"]["base_out_pd"] = json::array({6, 12, -5});
      fusion["near"]["base_out_pd"] = json::array({10, 18, 6});
      fusion["recovery_time_constant_s"] = 0.6;
      out["sensory"] = {{"preference", 0.6},
                        {"suppression", {{"eye", "either"}, {"scotoma_diameter_deg", 5}}}};
      return;
    case Holds::never: {
      const bool right = spread < 0.5;
      fusion["present"] = false;
      out["sensory"] = {
          {"preferred_eye", right ? "left" : "right"},
          {"preference", 1.0},
          {"suppression", {{"eye", right ? "right" : "left"}, {"scotoma_diameter_deg", 5}}}};
      return;
    }
  }
  fusion["distance"] = {{"base_out_pd", write_reserve(p.distance_base_out)},
                        {"base_in_pd", write_reserve(p.distance_base_in, false)}};
  fusion["near"] = {{"base_out_pd", write_reserve(p.near_base_out)},
                    {"base_in_pd", write_reserve(p.near_base_in)}};
}

json make_case(const GeneratedKind& kind, const DrawnPerson& p, std::uint64_t seed,
               std::uint64_t number) {
  json out = skeleton(p);
  const double spread = draw_uniform(seed, number, Trait::reserve);
  write_fusion(kind, p, spread, out);
  write_words(kind, p, spread < 0.5, draw_uniform(seed, number, Trait::words),
              draw_uniform(seed, number, Trait::name), out);
  out["seed"] = random_bits(seed, Stream::person, number * 64) >> 11U;
  out["note"] = fmt::format(
      "Drawn, not written: person {} of seed {}. Distance {:+.1f}, AC/A {:.1f} and proximal "
      "vergence "
      "{:.1f} were drawn, near {:+.1f} computed.",
      number, seed, p.distance_pd, p.ac_a_pd_per_d, p.proximal_pd, p.near_pd);
  return out;
}

// The whole truth: what the engine finds is what is claimed, in every gaze.
bool is_as_claimed(const GeneratedKind& kind, const Case& c) {
  Problems warnings;
  if (!check_meaning(c, &warnings).empty() || !warnings.empty()) return false;
  const truth::Truth found = calc_truth_of(c, setup_of(c));
  if (!found.comitant) return false;
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

/// One who may be kept, and what the engine says to that once it was asked.
struct Candidate {
  json written;
  Case content;
  std::uint64_t number = 0;
  std::optional<bool> as_claimed;
};

// The next people who are of this kind, up to `most`; none once `until` is reached.
std::vector<Candidate> draw_candidates(const GeneratedKind& kind, double difficulty,
                                       std::uint64_t seed, std::size_t most, std::uint64_t until,
                                       std::uint64_t& number) {
  std::vector<Candidate> drawn;
  while (drawn.size() < most && number <= until) {
    const std::uint64_t tried = number++;
    const auto person = draw_of_kind(kind, difficulty, seed, tried);
    if (!person) continue;
    json written = make_case(kind, *person, seed, tried);
    Result<Case> read = parse_case(written);
    if (!read) continue;
    drawn.push_back({std::move(written), std::move(read).value(), tried, std::nullopt});
  }
  return drawn;
}

// Asked beforehand, on all threads: those who will be looked at if all are as claimed.
void examine_ahead(const GeneratedKind& kind, const json& last, int threads,
                   std::vector<Candidate>& drawn) {
  std::vector<std::size_t> likely;
  const json* before = last.is_null() ? nullptr : &last;
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    if (before != nullptr && !is_unlike(drawn[i].written, *before)) continue;
    likely.push_back(i);
    before = &drawn[i].written;
  }
  spread(likely.size(), threads, [&](std::size_t i) {
    Candidate& one = drawn[likely[i]];
    one.as_claimed = is_as_claimed(kind, one.content);
  });
}

}  // namespace

const std::vector<std::string_view>& generated_diagnoses() {
  static const std::vector<std::string_view> kWords = [] {
    std::vector<std::string_view> all;
    for (const GeneratedKind& kind : generated_kinds()) all.push_back(kind.word);
    return all;
  }();
  return kWords;
}

Problems generate_each(std::string_view diagnosis, double difficulty, std::uint64_t seed, int count,
                       int threads, const std::function<Problems(json)>& keep) {
  const std::vector<GeneratedKind>& kinds = generated_kinds();
  const auto kind = std::find_if(kinds.begin(), kinds.end(),
                                 [&](const GeneratedKind& k) { return k.word == diagnosis; });
  if (kind == kinds.end()) {
    std::string all;
    for (const std::string_view word : generated_diagnoses()) {
      all += (all.empty() ? "" : ", ") + std::string(word);
    }
    return {{"/diagnosis", "is " + short_text(json(diagnosis)) + "; allowed: " + all}};
  }
  json last;
  int kept = 0;
  std::uint64_t number = 0;
  std::uint64_t last_found = 0;
  while (kept < count) {
    const std::size_t most = std::min(kAhead, 2 * static_cast<std::size_t>(count - kept));
    std::vector<Candidate> drawn =
        draw_candidates(*kind, difficulty, seed, most, last_found + kMostDraws, number);
    if (drawn.empty()) {
      return {{"", fmt::format("no {} of difficulty {} was found in {} draws; allowed: "
                               "another difficulty",
                               diagnosis, to_text(difficulty), kMostDraws)}};
    }
    examine_ahead(*kind, last, threads, drawn);
    for (Candidate& one : drawn) {
      if (kept == count) break;
      if (!last.is_null() && !is_unlike(one.written, last)) continue;
      if (!one.as_claimed.value_or(true)) continue;
      if (!one.as_claimed && !is_as_claimed(*kind, one.content)) continue;
      last = one.written;
      last_found = one.number + 1;
      ++kept;
      if (Problems problems = keep(std::move(one.written)); !problems.empty()) return problems;
    }
  }
  return {};
}

Result<std::vector<json>> generate_cases(std::string_view diagnosis, double difficulty,
                                         std::uint64_t seed, int count, int threads) {
  std::vector<json> cases;
  Problems problems = generate_each(diagnosis, difficulty, seed, count, threads, [&](json one) {
    cases.push_back(std::move(one));
    return Problems{};
  });
  if (!problems.empty()) return problems;
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
  int number = 0;
  std::string place = "generate";
  const Problems problems = generate_each(
      options.diagnosis, options.difficulty, options.seed, options.count, 0,
      [&](const json& one) -> Problems {
        ++number;
        if (options.folder.empty()) {
          fmt::print("{}\n", one.dump());
          return {};
        }
        place = options.folder + "/" + name_generated_file(options.diagnosis, options.seed, number);
        const auto problem = write_whole_file(place, one.dump(2) + "\n");
        return problem ? Problems{*problem} : Problems{};
      });
  return problems.empty() ? 0 : report(place, problems);
}

}  // namespace redress::program
