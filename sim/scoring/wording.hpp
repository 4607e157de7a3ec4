// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Whether an impression says what the case accepts. An accepted wording inside a longer one is no
// match by itself: "pseudo-esotropia", "esotropia excluded" and "left esotropia" hold "esotropia".
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/scoring/examined.hpp"

namespace redress::scoring {

/// The words that name something, in their order: abbreviations and synonyms of the trade by one
/// word each ("LET" -> left, esotropia; "paresis" -> palsy), without those that name nothing ("a",
/// "of", "suspected", "small", sizes).
std::vector<std::string> naming_words(std::string_view text);

enum class Match : std::uint8_t {
  none,
  side_missing,  ///< all but which eye
  partly,        ///< accepted, and beside it something that is neither accepted nor so
  whole
};

/// `written` against everything the case accepts. In any order of words, except where turning them
/// round means something else ("right over left"). What the engine says of this patient may stand
/// beside it: the eye that deviates, constant or intermittent, comitant, amblyopia.
Match match_impression(const Examined& x, std::string_view written);

/// The wordings that the case accepts; if it names none, what the engine calls the findings.
std::vector<std::string> accepted_wordings(const Examined& x);

/// A word that takes back what it stands beside: "no", "pseudo", "excluded".
bool denies(std::string_view word);

}  // namespace redress::scoring
