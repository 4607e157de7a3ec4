// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The chain that ties the lines of a record together. Each line is one JSON object whose last key
// is "chain": the hash (sim/basics/content_hash.hpp), in 64 lower-case hexadecimal digits, of
//     the previous line's chain, as those 64 characters (nothing before the first line), and then
//     this line's bytes before `,"chain":"`.
// A changed, missing, added or moved line breaks it. There is no secret in it: it shows accidents
// and careless hands, not somebody who writes the whole chain again.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace redress::record {

/// 64 hexadecimal digits; empty before the first line.
using ChainText = std::string;

/// `object` is a JSON object as text, "{...}", not empty. Returns the line without its LF, and
/// makes `chain` that line's chain.
std::string make_chained_line(std::string_view object, ChainText& chain);

/// A line (without LF) taken apart; the texts point into it.
struct ChainedLine {
  std::string_view body;   ///< the bytes before `,"chain":"`
  std::string_view chain;  ///< what the line says, 64 characters, not looked at
};

/// Nothing if the line does not end with `,"chain":"` + 64 characters + `"}`.
std::optional<ChainedLine> find_chain(std::string_view line);

}  // namespace redress::record
