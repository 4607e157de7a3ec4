// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The taxonomy of impressions: what can be chosen as a provisional diagnosis, in groups by where
// the trouble lies. One list for every patient, in one order, whatever was found. Anything else can
// be typed. Entities: clinical §5 and the cases' look-alikes; names are the trade's, each with
// the other names that people type for it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace redress::findings {

enum class ImpressionGroup : std::uint8_t {
  nothing,         ///< no abnormality, and what only looks like one
  correction,      ///< the lenses, the media, the retina
  latent,          ///< phorias and vergence
  manifest,        ///< squints of childhood and after
  nerve_muscle,    ///< palsies, nuclei, muscles, nystagmus
  orbit_and_body,  ///< orbit, vessels, general disease
};
inline constexpr int kImpressionGroups = 6;

/// Which sides can be written before the name.
enum class Sides : std::uint8_t { none, right_left, with_alternating, with_bilateral };

struct Impression {
  std::string_view name;  ///< lower case: "sixth nerve palsy"
  ImpressionGroup group;
  Sides sides = Sides::none;
  std::string_view also = {};  ///< other names, apart by |, for the search
};

std::span<const Impression> impressions();
std::string_view name_of(ImpressionGroup group);
/// The sides that can be said, as they are written: "right", "left", "alternating", "bilateral".
std::span<const std::string_view> words_of(Sides sides);

/// Those of which each typed word begins a word of the name, of another name or of the group, in
/// the taxonomy's order. A side typed with them is taken off first. Empty text: all.
std::vector<const Impression*> find_impressions(std::string_view typed);

/// An impression as it was written, taken apart: "left sixth nerve palsy" is the sixth nerve palsy
/// with the side "left". Null where it is none of the taxonomy.
struct ReadImpression {
  const Impression* impression = nullptr;
  std::optional<std::string_view> side;
};
ReadImpression read_impression(std::string_view diagnosis);
std::string write_impression(const Impression& impression, std::optional<std::string_view> side);

}  // namespace redress::findings
