// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Many cases in one file, to hand on: format "redress-pack", version 1, one JSON object with a
// manifest (title, note, and for each case its file name, length and checksum) and the files' texts
// byte for byte. A checksum is the BLAKE2b-256 hash of the text (libsodium crypto_generichash), 64
// hexadecimal digits.
//
// Nothing in a pack can name a place: a file name is small letters, digits, "_" and "-" and ends in
// ".json". A pack is read and checked whole, each case in it too, before anything is written.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"

namespace redress {

inline constexpr std::string_view kPackFormat = "redress-pack";
inline constexpr int kPackVersion = 1;
inline constexpr std::size_t kMostPackedCases = 20'000;
inline constexpr std::size_t kLargestPack = std::size_t{128} * 1024 * 1024;  ///< bytes

struct PackedCase {
  std::string name;  ///< "exophoria.json"
  std::string text;
  Case content;
};

struct Pack {
  std::string title;
  std::string note;
  std::vector<PackedCase> cases;
};

/// Problems have places in the pack; those of a case are under /cases/N/text.
Result<Pack> read_pack(std::string_view text);

/// The pack's text. Problems: a name that is none, two alike, a text that is no case; places are
/// file names.
Result<std::string> write_pack(const Pack& pack);

/// 64 hexadecimal digits.
std::string calc_checksum(std::string_view text);

/// Whether a case may be called so in a pack.
bool is_pack_name(std::string_view name);

}  // namespace redress
