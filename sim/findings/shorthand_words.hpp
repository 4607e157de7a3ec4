// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The vocabulary of the shorthand: what one word, or a phrase of a few, can mean. Only the reader
// (sim/findings/shorthand_read.cpp) needs this.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/room/finding.hpp"

namespace redress::findings {

enum class WordKind : std::uint8_t {
  deviation,      ///< a class of deviation: see Meaning
  none,           ///< no movement
  test,           ///< names the test
  base,           ///< of a prism
  distance,       ///< D
  near,           ///< N
  correction,     ///< sc, cc
  recovery_mark,  ///< rec
  grade,          ///< rapid, slow: recovery with or without "rec"
  grade_by_mark,  ///< good, mod, no: recovery only beside "rec"
  size_word,      ///< min, sl, mkd, flick
  eye,            ///< R, RE, OD
  constancy,
  method,
  comitance,
  unit_pd,
  unit_m,
  unit_cm,
  unit_ft,
  unit_inch,
  response,  ///< of the four-dioptre test
  base_out_range,
  base_in_range,  ///< PFV, NFV
  to_the_nose,
  remark,           ///< kept as it is
  beside,           ///< what Meaning::said says: gaze, fixing eye, what else was seen
  torsion,          ///< sign: excyclo +; its degrees stand beside it
  posture,          ///< AHP: what is quoted after it
  not_done,         ///< and why, in what is quoted after it
  covers,           ///< after a number: covers seen
  covers_to_break,  ///< after a number: until it was manifest
  unit_deg,
  filler,  ///< says nothing: "with", "of", "before"
};

enum class BaseDirection : std::uint8_t { in, out, up, down };

/// What a word means. Only the fields that its kind speaks of are read.
struct Meaning {
  WordKind kind = WordKind::filler;
  // deviation
  bool vertical = false;
  int sign = 0;  ///< eso +, right eye higher +; for hyper and hypo without an eye: of that eye
  bool tropia = false;
  bool of_the_eye = false;  ///< sign is that of the eye still to be named: hypertropia
  std::optional<Constancy> constancy;
  std::optional<FindingEye> eye;
  // others
  FindingTest test = FindingTest::cover_test;
  BaseDirection base = BaseDirection::in;
  bool yes = false;   ///< correction worn; comitant; ortho: horizontal
  bool also = false;  ///< ortho: vertical
  RecoveryGrade grade = RecoveryGrade::rapid;
  SizeMethod method = SizeMethod::estimated;
  FourDioptreResponse response = FourDioptreResponse::typical;
  double size_pd = 0.0;  ///< size_word: taken as about this
  bool unnamed = false;  ///< eso, exo: a direction without latent or manifest
  Finding said;          ///< beside: what it says
  std::string remark;
};

/// What the meaning of SPCT carries as its remark: a method, not a remark of the writer.
inline constexpr const char* kSimultaneous = "simultaneous prism and cover";

/// Words in capitals, T with its brackets, without primes. Of several only what stands alone.
std::optional<Meaning> find_meaning(std::string_view word);

/// The longest phrase in the table has this many words.
inline constexpr int kLongestPhrase = 4;

/// Up to two words that are one slip of the pen away, as they are written, with what they stand
/// for: "XOP (exophoria)".
std::vector<std::string> suggest_words(std::string_view word);

}  // namespace redress::findings
