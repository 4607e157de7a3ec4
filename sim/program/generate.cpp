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
#include "sim/cases/made_muscles.hpp"
#include "sim/program/generated_teaching.hpp"
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
    case Pattern::small: return p.near_pd > -5.5 && p.near_pd < 2.0 && magnitude(change) < 4.0;
  }
  return false;
}

// Easy is large. The size that counts is the larger of distance and near.
bool is_of_size(const GeneratedKind& kind, const DrawnPerson& p, double difficulty) {
  const bool any_size = kind.pattern == Pattern::any || kind.pattern == Pattern::none;
  if (any_size || kind.beside != Beside::nothing) return true;
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

// Reserves of who loses an exodeviation now and then: about those of the shipped case, each its own
// (judgement, as is how slowly fusion comes back).
void write_poor_hold(double control, json& fusion) {
  const double far = to_whole(10.0 + 5.0 * control);
  const auto reserve = [](double blur, double break_pd, double recovery) {
    return json::array(
        {to_json_number(blur), to_json_number(break_pd), to_json_number(to_whole(recovery))});
  };
  const double blur = to_whole(0.5 * far);
  fusion["distance"]["base_out_pd"] = reserve(blur, far, -7.0 + 4.0 * control);
  fusion["near"]["base_out_pd"] = reserve(blur + 4, far + 6, 4.0 + 4.0 * control);
  fusion["recovery_time_constant_s"] = to_json_number((80.0 - to_whole(40.0 * control)) / 100.0);
}

// An eye that has always turned and was never treated sees less: 0.2 to 0.7 logMAR where it turned
// in, 0.1 to 0.4 where it turned out (judgement).
void make_amblyopic(const GeneratedKind& kind, bool right, double depth, DrawnPerson& p) {
  const bool inwards = kind.least_distance_pd > 0.0;
  double& acuity = p.acuity_logmar[right ? Eye::right : Eye::left];
  acuity = to_letter(acuity + (inwards ? 0.2 + 0.5 * depth : 0.1 + 0.3 * depth));
}

// The person's own reserves, by what the deviation does: at least what its rule asks for where it
// is held with ease (exo: twice the deviation, Sheard; eso: the recovery as much as the deviation,
// 1:1), less than it where it gives trouble.
void write_fusion(const GeneratedKind& kind, DrawnPerson p, double spread, double control,
                  json& out) {
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
      write_poor_hold(control, fusion);
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

// How high one eye stands, or how much of a muscle is left: about a tenth of the span to either
// side of what the difficulty asks for.
void write_beside(const GeneratedKind& kind, double difficulty, bool right, double uniform,
                  json& out) {
  const double at = clamp(difficulty + 0.2 * (uniform - 0.5), 0.0, 1.0);
  const double height = to_half(kind.largest_pd + at * (kind.least_pd - kind.largest_pd));
  const double strength = to_whole(100.0 * (kind.least_strength +
                                            at * (kind.greatest_strength - kind.least_strength))) /
                          100.0;
  const char* side = right ? "right" : "left";
  switch (kind.beside) {
    case Beside::nothing: return;
    case Beside::height:
      out["deviation"]["vertical_pd"] = to_json_number(right ? height : -height);
      // Held at rest, and with little to spare (judgement).
      out["fusion"]["vertical"] = {
          {"right_supra_pd", {to_json_number(right ? 2.5 : height + 1.5), 1.5}},
          {"right_infra_pd", {to_json_number(right ? height + 1.5 : 2.5), 1.5}}};
      return;
    case Beside::lateral_rectus:
      out["muscles"][side]["lateral_rectus"]["strength"] = to_json_number(strength);
      break;
    case Beside::superior_oblique:
      out["muscles"][side]["superior_oblique"]["strength"] = to_json_number(strength);
      out["muscles"]["tilt_gain"] = 1.6;
      break;
  }
  // The sound eye fixes.
  out["sensory"] = {{"preferred_eye", right ? "left" : "right"}, {"preference", 1.0}};
}

json make_case(const GeneratedKind& kind, DrawnPerson p, double difficulty, std::uint64_t seed,
               std::uint64_t number) {
  const double spread = draw_uniform(seed, number, Trait::reserve);
  const double side = draw_uniform(seed, number, Trait::side);
  const bool right = spread < 0.5;
  if (kind.holds == Holds::never) make_amblyopic(kind, right, side, p);
  json out = skeleton(p);
  write_fusion(kind, p, spread, side, out);
  write_beside(kind, difficulty, right, side, out);
  // The same seed gives patients of another kind other names and stories.
  const auto which = static_cast<std::uint64_t>(&kind - generated_kinds().data());
  const std::uint64_t teller = number + which * kMostDraws;
  write_words(kind, p, right, draw_uniform(seed, teller, Trait::words),
              draw_uniform(seed, teller, Trait::name), out);
  write_teaching(kind.word, difficulty, out);
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
  const ExaminationSetup setup = set_up_draft(c, {});
  Problems warnings;
  if (!check_meaning(c, &warnings, setup.patient.muscles).empty() || !warnings.empty()) {
    return false;
  }
  const truth::Truth found = calc_truth_of(c, setup);
  const bool weak = kind.beside != Beside::nothing && kind.beside != Beside::height;
  if (found.comitant == weak) return false;
  if (kind.found_as.empty()) return true;
  // Of whom one eye is claimed to be the cause, that eye.
  std::string side;
  if (kind.beside != Beside::nothing) {
    side = c.expected.diagnosis.starts_with("right") ? "right " : "left ";
  }
  return std::any_of(kind.found_as.begin(), kind.found_as.end(), [&](std::string_view words) {
    return found.diagnosis.find(side + std::string(words)) != std::string::npos;
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
    json written = make_case(kind, *person, difficulty, seed, tried);
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
                       int threads, const std::function<Problems(json)>& keep,
                       const std::function<bool(int)>& goes_on) {
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
      if (goes_on && !goes_on(kept)) return {};
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
                                         std::uint64_t seed, int count, int threads,
                                         const std::function<bool(int)>& goes_on) {
  std::vector<json> cases;
  Problems problems = generate_each(
      diagnosis, difficulty, seed, count, threads,
      [&](json one) {
        cases.push_back(std::move(one));
        return Problems{};
      },
      goes_on);
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
