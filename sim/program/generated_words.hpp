// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What `redress generate` can draw: for each diagnosis where its numbers lie and what such a
// patient says. Prism dioptres, eso +. People and stories are invented.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/program/generated_people.hpp"

namespace redress::program {

/// How distance and near go together.
enum class Pattern : std::uint8_t { any, none, basic, more_eso_near, more_exo_near, small };
/// How the eyes are held.
enum class Holds : std::uint8_t { as_drawn, well, badly, sometimes, never };
/// What is beside the horizontal: one eye higher by `least_pd` to `largest_pd`, or a muscle of one
/// eye with `least_strength` (easy) to `greatest_strength` (hard) left.
enum class Beside : std::uint8_t { nothing, height, lateral_rectus, superior_oblique };

struct GeneratedKind {
  std::string_view word;  ///< of --diagnosis
  Pattern pattern = Pattern::any;
  Holds holds = Holds::well;
  double least_distance_pd = 0.0;  ///< the distance deviation is drawn from here
  double greatest_distance_pd = 0.0;
  double least_pd = 0.0;    ///< the larger of distance and near: hard
  double largest_pd = 0.0;  ///< easy
  double least_age = 18.0;
  double greatest_age = 40.0;
  std::vector<std::string_view> found_as;  ///< one of these is in the engine's name for it
  std::string_view diagnosis;              ///< as expected
  std::vector<std::string_view> accepted;
  std::string_view urgency;
  Beside beside = Beside::nothing;
  double least_strength = 1.0;
  double greatest_strength = 1.0;
};

const std::vector<GeneratedKind>& generated_kinds();

/// Title, name, story, answers, expected diagnosis, such as somebody of that age would tell.
/// `right`: the eye that squints, if one does; `story` and `name` uniform in [0, 1).
void write_words(const GeneratedKind& kind, const DrawnPerson& person, bool right, double story,
                 double name, nlohmann::json& out);

}  // namespace redress::program
