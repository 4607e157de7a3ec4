// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The trade's shorthand, read and written: "33 cm cc 8Δ XOP′ slow rec", "2 X, 4 X′", "RCS mod",
// "NPC 9/13 cm". Every tradition is read at once; one is chosen to write in. Notation: College of
// Optometrists annex and American usage as tabled in the clinical pages (§9), with what is in daily
// use beside them (practice, B17). What that table does not hold is marked where it is listed
// (sim/findings/shorthand_words.cpp). Tradition of notation is never marked.
//
// Conventions: brackets round T say intermittent, none say constant; ′ says near; R/L right eye
// higher; a size without a prism is an estimate, with PCT or a base it is measured.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/findings/evidence.hpp"
#include "sim/room/finding.hpp"

namespace redress::findings {

/// `hospital`: convergent and divergent squint, as in hospitals of the United Kingdom, Ireland and
/// India (practice, B17).
enum class Tradition : std::uint8_t { uk, us, hospital };

/// What holds where the line does not say: the condition that the card stands at.
struct ShorthandContext {
  std::optional<double> distance_m;
  std::optional<bool> spectacles;
  double near_m = 0.33;  ///< what ′ and N stand for
  double far_m = 6.0;    ///< what D stands for
};

/// A part of the line that was not read, and why.
struct UnreadPart {
  std::size_t at = 0;      ///< byte in the line
  std::size_t length = 0;  ///< bytes
  std::string text;
  std::string message;  ///< whole sentences
};

struct ShorthandReading {
  std::vector<Finding> findings;   ///< of what was read
  std::vector<UnreadPart> unread;  ///< in order of the line
  std::vector<std::string> hints;  ///< sentences: taken as, or better written otherwise
  std::string words;               ///< what was read, in words, without a full stop
  // As the line says last, whether or not anything else was read.
  std::optional<double> distance_m;
  std::optional<bool> spectacles;

  /// Read to the last word, and it says something.
  [[nodiscard]] bool ok() const { return unread.empty() && !findings.empty(); }
  /// The line under the field: "Read as: …", or what is not read and what the rest reads. Empty for
  /// an empty line.
  [[nodiscard]] std::string message() const;
};

/// Never fails: what is not read is listed. A comma, a semicolon or the name of another test begins
/// the next entry; distance and correction carry over to it.
ShorthandReading read_shorthand(std::string_view line, const ShorthandContext& context = {});

/// One entry: "33 cm cc 8Δ XOP′ slow rec". Reading it gives the same entry, except that a tropia
/// said to be neither constant nor intermittent reads as constant. Impressions and plans are
/// written in words and not read back. What stands beside the size: shorthand_beside.hpp.
std::string write_shorthand(const Finding& finding, Tradition tradition);
/// The same without its distance and correction; ′ stands at 1 m and nearer.
std::string write_shorthand_bare(const Finding& finding, Tradition tradition);
/// The card in one line: "CT cc 2Δ XOP rapid rec, 10Δ XOP′ slow rec   NPC 9/13 cm".
std::string write_shorthand(std::span<const WrittenFinding> entries, Tradition tradition);

/// In plain words: "33 cm, with correction, exophoria 8Δ, recovery slow".
std::string write_words(const Finding& finding);
/// The same without distance and correction.
std::string write_words_bare(const Finding& finding);

/// "33 cm", "6 m", "1.5 m".
std::string write_distance(double distance_m);
/// "8", "0.5": no more digits than it takes, at most two decimals.
std::string write_number(double value);

}  // namespace redress::findings
