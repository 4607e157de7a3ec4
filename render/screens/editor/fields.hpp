// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What can be written in a case, by clinical idea: the words, the unit, what is allowed and what it
// does, for each place in the file. Ranges are those of the reader (sim/cases/read_case.cpp).
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "sim/basics/eye.hpp"
#include "sim/cases/draft.hpp"

namespace redress::screens::editor {

enum class Section : std::uint8_t {
  story,
  appearance,
  refraction,
  deviation,
  fusion,
  sensory,
  muscles,
  instability,
  expected,
  goals,
  on_file,
};
inline constexpr std::size_t kSections = 11;
[[nodiscard]] std::string_view title_of(Section section);
/// One sentence under the title.
[[nodiscard]] std::string_view words_of(Section section);
/// It has fields of one eye, of which either is shown.
[[nodiscard]] bool has_eyes(Section section);

enum class FieldKind : std::uint8_t {
  words,
  list,    ///< words between semicolons
  number,  ///< whole if decimals is 0
  three,   ///< blur, break, recovery; blur may be empty
  two,     ///< break, recovery
  pairs,   ///< distance and value, pairs between semicolons
  choice,
  yes_no,
};

struct Field {
  Section section;
  std::string_view pointer;  ///< "*" stands for right or left
  std::string_view label;
  FieldKind kind = FieldKind::words;
  std::string_view unit = {};  ///< and which way is plus
  double least = 0;
  double most = 0;
  std::string_view does = {};                      ///< one sentence; empty: the label says it
  std::span<const std::string_view> choices = {};  ///< values as in the file
};

/// In the order of the screen. A field with an empty pointer is a heading.
[[nodiscard]] std::span<const Field> fields();

/// The place in the file, with the eye in it.
[[nodiscard]] std::string place_of(const Field& field, Eye eye);
/// Of a list, what is written and the next free row: what lies beyond is not shown.
[[nodiscard]] bool is_in_reach(const CaseDraft& draft, const Field& field);
/// The section whose field is nearest to a problem's place.
[[nodiscard]] Section section_of(std::string_view place);

/// As it stands in a field of the screen: what is written; empty where nothing is.
[[nodiscard]] std::string written_text(const CaseDraft& draft, const Field& field, Eye eye);
/// The default in force where nothing is written, for the hint in the empty field.
[[nodiscard]] std::string default_text(const CaseDraft& draft, const Field& field, Eye eye);

/// Writes the text into the draft; an empty one leads back to the default. Returns what is wrong,
/// with what is allowed, and writes nothing then; empty: written.
std::string write_text(CaseDraft& draft, const Field& field, Eye eye, std::string_view text);

}  // namespace redress::screens::editor
