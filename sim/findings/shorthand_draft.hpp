// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What has been read of one entry so far, and how it becomes findings: which number is the size of
// what, whose eye it is, which way.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/findings/shorthand.hpp"
#include "sim/findings/shorthand_tokens.hpp"
#include "sim/findings/shorthand_words.hpp"

namespace redress::findings {

/// A class of deviation, or the base of a prism.
struct DraftPart {
  Meaning meaning;
  Token token;
  int order = 0;
  bool is_base = false;
  std::optional<double> size_pd;
  std::optional<FindingEye> eye;

  [[nodiscard]] bool is_vertical() const;
};

struct SizedNumber {
  double value = 0.0;
  Token token;
  int order = 0;
  bool with_unit = false;
};

struct Draft {
  std::optional<double> distance_m;
  std::optional<bool> spectacles;
  bool near = false;
  bool far = false;
  std::optional<FindingTest> test;
  int order = 0;
  std::vector<DraftPart> parts;
  std::vector<SizedNumber> sizes;
  std::optional<std::pair<Meaning, Token>> none;
  std::vector<std::pair<FindingEye, Token>> eyes;
  std::optional<std::pair<Constancy, Token>> constancy;
  std::optional<SizeMethod> method;
  std::optional<bool> comitant;
  std::optional<RecoveryGrade> recovery;
  std::optional<Meaning> size_word;
  std::optional<std::pair<FourDioptreResponse, Token>> response;
  std::vector<std::optional<double>> values;  ///< near point, AC/A
  std::vector<std::optional<double>> list;    ///< of reserves, before their base
  std::optional<std::string> range;           ///< PFV, NFV: the base of the numbers to come
  std::vector<Finding> reserves;
  Finding seen;     ///< what stands beside the size, merged into what is found
  int torsion = 0;  ///< sign of a torsion whose degrees are still to come
  int angles = 0;   ///< degrees given to the gaze so far
  std::string remark;
  bool faulty = false;  ///< some of it was not read

  void add_remark(std::string_view text);
  void add_reserve(std::string_view base, const std::vector<std::optional<double>>& numbers);
  [[nodiscard]] bool has_class(bool vertical) const;
  /// More than a place and a correction.
  [[nodiscard]] bool has_content() const;
};

/// What the next entry of the line takes over.
struct Carried {
  std::optional<double> distance_m;
  std::optional<bool> spectacles;
};

struct DraftResult {
  std::vector<Finding> findings;
  std::vector<UnreadPart> unread;  ///< without their text
  std::vector<std::string> hints;
  std::string rest;  ///< in words, what became no finding
  Carried carried;
};

DraftResult finish_draft(const Draft& draft, const ShorthandContext& context,
                         const Carried& carried);

}  // namespace redress::findings
