// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/editor/fields.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/json_reader.hpp"

namespace redress::screens::editor {

namespace {

using nlohmann::ordered_json;
std::string write_number(double value) {
  std::string text = to_text(value);
  if (text.starts_with("-")) text = "−" + text.substr(1);
  return text;
}

/// A minus sign or a hyphen, a comma or a point.
std::optional<double> read_number(std::string_view text) {
  std::string plain;
  constexpr std::string_view kMinus = "−";
  for (std::size_t i = 0; i < text.size();) {
    if (text.substr(i).starts_with(kMinus)) {
      plain += '-';
      i += kMinus.size();
      continue;
    }
    const char c = text[i++];
    if (c == ' ' || (c == '+' && plain.empty())) continue;
    plain += c == ',' ? '.' : c;
  }
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::vector<std::string> split(std::string_view text, char at) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = std::min(text.find(at), text.size());
    std::string_view part = text.substr(0, end);
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    parts.emplace_back(part);
    if (end == text.size()) return parts;
    text.remove_prefix(end + 1);
  }
}

std::string to_words(const nlohmann::json& value, FieldKind kind) {
  if (value.is_null()) return "";
  if (value.is_string()) return value.get<std::string>();
  if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
  if (value.is_number()) return write_number(value.get<double>());
  std::string text;
  if (!value.is_array()) return text;
  for (const auto& part : value) {
    const bool listed = kind == FieldKind::list || kind == FieldKind::pairs;
    if (!text.empty()) text += listed ? "; " : " / ";
    text += part.is_null() ? "–" : to_words(part, listed ? FieldKind::two : kind);
  }
  return text;
}

std::string say_allowed(const Field& field) {
  return fmt::format("{} to {}", write_number(field.least), write_number(field.most));
}

struct Read {
  ordered_json value;
  std::string problem;
};
Read read_one(const Field& field, std::string_view text) {
  const auto value = read_number(text);
  if (!value) {
    return {nullptr, fmt::format("“{}” is no number; allowed: {}", text, say_allowed(field))};
  }
  if (*value < field.least || *value > field.most) {
    return {nullptr,
            fmt::format("{} is outside; allowed: {}", write_number(*value), say_allowed(field))};
  }
  return {ordered_json::parse(to_json_number(*value).dump()), ""};
}

Read read_row(const Field& field, std::string_view text) {
  const std::size_t wanted = field.kind == FieldKind::three ? 3 : 2;
  const std::vector<std::string> parts = split(text, '/');
  const std::string_view form = wanted == 3 ? "blur / break / recovery" : "break / recovery";
  if (parts.size() != wanted) {
    return {nullptr, fmt::format("write {}, with strokes between; – where there is no blur", form)};
  }
  ordered_json row = ordered_json::array();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const bool no_blur =
        wanted == 3 && i == 0 &&
        (parts[i].empty() || parts[i] == "–" || parts[i] == "-" || parts[i] == "x");
    if (no_blur) {
      row.push_back(nullptr);
      continue;
    }
    Read one = read_one(field, parts[i]);
    if (!one.problem.empty()) return one;
    row.push_back(std::move(one.value));
  }
  return {std::move(row), ""};
}

// "20 / −12; 2 / −4": a distance in metres and what is there.
Read read_pairs(const Field& field, std::string_view text) {
  ordered_json pairs = ordered_json::array();
  for (const std::string& written : split(text, ';')) {
    if (written.empty()) continue;
    const std::vector<std::string> parts = split(written, '/');
    const auto distance = read_number(parts.front());
    if (parts.size() != 2 || !distance) {
      return {nullptr, fmt::format("“{}” is not read; write metres / Δ; the next", written)};
    }
    Read there = read_one(field, parts.back());
    if (!there.problem.empty()) return there;
    pairs.push_back(ordered_json::array(
        {ordered_json::parse(to_json_number(*distance).dump()), std::move(there.value)}));
  }
  return {std::move(pairs), ""};
}

Read read_text(const Field& field, std::string_view text) {
  switch (field.kind) {
    case FieldKind::pairs: return read_pairs(field, text);
    case FieldKind::number: return read_one(field, text);
    case FieldKind::three:
    case FieldKind::two: return read_row(field, text);
    case FieldKind::yes_no: return {text == "yes", ""};
    case FieldKind::list: {
      ordered_json list = ordered_json::array();
      for (const std::string& part : split(text, ';')) {
        if (!part.empty()) list.push_back(part);
      }
      return {std::move(list), ""};
    }
    case FieldKind::words:
    case FieldKind::choice: return {std::string{text}, ""};
  }
  return {};
}

}  // namespace

std::string place_of(const Field& field, Eye eye) {
  std::string place{field.pointer};
  const std::size_t at = place.find('*');
  if (at != std::string::npos) place.replace(at, 1, eye == Eye::right ? "right" : "left");
  return place;
}

bool is_in_reach(const CaseDraft& draft, const Field& field) {
  const std::size_t digit = field.pointer.find_first_of("0123456789");
  if (digit == std::string_view::npos) return true;
  const auto row = static_cast<std::size_t>(field.pointer[digit] - '0');
  const ordered_json* list = draft.find(field.pointer.substr(0, digit - 1));
  const bool written = list != nullptr && list->is_array();
  return row <= (written ? list->size() : 0);
}

Section section_of(std::string_view place) {
  Section nearest = Section::story;
  std::size_t most = 0;
  for (const Field& field : fields()) {
    for (const Eye eye : kBothEyes) {
      const std::string own = place_of(field, eye);
      std::size_t same = 0;
      while (same < own.size() && same < place.size() && own[same] == place[same]) ++same;
      if (same > most) {
        most = same;
        nearest = field.section;
      }
    }
  }
  return nearest;
}

std::string written_text(const CaseDraft& draft, const Field& field, Eye eye) {
  const ordered_json* written = draft.find(place_of(field, eye));
  if (written == nullptr) return "";
  return to_words(nlohmann::json::parse(written->dump()), field.kind);
}

std::string default_text(const CaseDraft& draft, const Field& field, Eye eye) {
  return to_words(draft.value_in_force(place_of(field, eye)), field.kind);
}

std::string write_text(CaseDraft& draft, const Field& field, Eye eye, std::string_view text) {
  const std::string place = place_of(field, eye);
  const std::string label =
      place == field.pointer
          ? std::string{field.label}
          : fmt::format("{}, {}", field.label, eye == Eye::right ? "right" : "left");
  const bool required = field.pointer == "/title" || field.pointer == "/deviation/distance_pd" ||
                        field.pointer == "/deviation/near_pd";
  if (text.empty()) {
    if (required) return "cannot be left out";
    draft.clear(place, label);
    return "";
  }
  Read read = read_text(field, text);
  if (!read.problem.empty()) return read.problem;
  draft.set(place, std::move(read.value), label);
  return "";
}

}  // namespace redress::screens::editor
