// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Strict reading of JSON that somebody else wrote: cases, acts, records. Whatever the input, the
// answer is a value or a list of problems, each with its place, the value found and what is
// allowed; no exception leaves these functions. RFC 8259, and stricter: limits on size and nesting,
// no repeated keys, no NUL, no number that a double cannot hold.
//
//   Problems problems;
//   ObjectReader reader(value, "/patient", problems);
//   patient.age_years = reader.number("age_years", 1, 99, 23);
//   reader.finish();  // every key not read is reported as unknown
#pragma once

#include <cstddef>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"

namespace redress {

struct JsonLimits {
  std::size_t size_bytes = std::size_t{8} * 1024 * 1024;
  std::size_t depth = 32;  ///< arrays and objects inside one another
};

/// The one JSON value that makes up the whole text. Problems name line and column; a repeated key
/// has its JSON pointer as place.
Result<nlohmann::json> parse_json(std::string_view text, const JsonLimits& limits = {});

/// One reference token added to a JSON pointer, escaped (RFC 6901). For messages: a control
/// character becomes "?", a key of more than 60 bytes is cut.
std::string pointer_to(std::string_view parent, std::string_view key);
std::string pointer_to(std::string_view parent, std::size_t index);

/// The value as compact JSON, cut after 60 bytes: what messages show.
std::string short_text(const nlohmann::json& value);

/// The shortest text that reads back as the same double, without a trailing ".0".
std::string to_text(double value);

/// The double as JSON: whole numbers as integers, so that 4 is not written 4.0.
nlohmann::json to_json_number(double value);

/// A word of a file format and what it stands for.
template <class E>
struct NamedValue {
  std::string_view name;
  E value;
};

/// The word for a value; empty when the list has none.
template <class E>
std::string_view find_name(std::span<const NamedValue<E>> names, const E& value) {
  for (const auto& entry : names) {
    if (entry.value == value) return entry.name;
  }
  return {};
}
template <class E, std::size_t N>
std::string_view find_name(const NamedValue<E> (&names)[N], const E& value) {
  return find_name(std::span<const NamedValue<E>>(names), value);
}

/// Reads the members of one object and remembers which were asked for. Each family has three forms:
///   x(key, ..., otherwise)  `otherwise` when the key is absent; null is a wrong type
///   required_x(key, ...)    an absent key is a problem
///   optional_x(key, ...)    nothing when the key is absent or null
/// A wrong value is reported once; the caller gets the default (or nothing) and reads on. Ranges
/// are inclusive. The value must outlive the reader.
class ObjectReader {
 public:
  /// A value that is no object is a problem; the reader then answers as if every key were absent,
  /// and does not complain about that again.
  ObjectReader(const nlohmann::json& value, std::string place, Problems& problems);

  [[nodiscard]] bool is_object() const { return is_object_; }
  [[nodiscard]] const std::string& place() const { return place_; }
  [[nodiscard]] std::string place_of(std::string_view key) const { return pointer_to(place_, key); }
  /// Where this reader reports.
  [[nodiscard]] Problems& problems() const { return *problems_; }
  /// Present, null or not. Does not count as reading.
  [[nodiscard]] bool has(std::string_view key) const;
  /// The member as it stands, or null pointer; counts as reading.
  const nlohmann::json* raw(std::string_view key);

  double number(std::string_view key, double low, double high, double otherwise);
  std::optional<double> required_number(std::string_view key, double low, double high);
  std::optional<double> optional_number(std::string_view key, double low, double high);

  /// Whole numbers up to 2^53 either way; 5.0 counts as whole.
  std::int64_t integer(std::string_view key, std::int64_t low, std::int64_t high,
                       std::int64_t otherwise);
  std::optional<std::int64_t> required_integer(std::string_view key, std::int64_t low,
                                               std::int64_t high);
  std::optional<std::int64_t> optional_integer(std::string_view key, std::int64_t low,
                                               std::int64_t high);

  bool boolean(std::string_view key, bool otherwise);
  std::optional<bool> required_boolean(std::string_view key);
  std::optional<bool> optional_boolean(std::string_view key);

  /// Lengths in bytes of UTF-8.
  std::string string(std::string_view key, std::size_t max_length, std::string otherwise = {});
  std::optional<std::string> required_string(std::string_view key, std::size_t max_length);
  std::optional<std::string> optional_string(std::string_view key, std::size_t max_length);

  template <class E>
  E enumerated(std::string_view key, std::span<const NamedValue<E>> names, E otherwise) {
    const auto index = choose(key, names_of(names), Presence::defaulted);
    return index ? names[*index].value : otherwise;
  }
  template <class E, std::size_t N>
  E enumerated(std::string_view key, const NamedValue<E> (&names)[N], E otherwise) {
    return enumerated(key, std::span<const NamedValue<E>>(names), otherwise);
  }
  template <class E, std::size_t N>
  std::optional<E> required_enumerated(std::string_view key, const NamedValue<E> (&names)[N]) {
    const auto index =
        choose(key, names_of(std::span<const NamedValue<E>>(names)), Presence::required);
    return index ? std::optional<E>(names[*index].value) : std::nullopt;
  }
  template <class E, std::size_t N>
  std::optional<E> optional_enumerated(std::string_view key, const NamedValue<E> (&names)[N]) {
    const auto index =
        choose(key, names_of(std::span<const NamedValue<E>>(names)), Presence::optional);
    return index ? std::optional<E>(names[*index].value) : std::nullopt;
  }

  /// The array, or a null pointer when absent or wrong.
  const nlohmann::json* array(std::string_view key, std::size_t min_items, std::size_t max_items);
  const nlohmann::json* required_array(std::string_view key, std::size_t min_items,
                                       std::size_t max_items);

  /// A reader of the member object; of an empty one when absent or wrong.
  ObjectReader object(std::string_view key);
  ObjectReader required_object(std::string_view key);

  /// A problem of the caller's own at `key`.
  void report(std::string_view key, std::string message);

  /// Reports every key that nobody asked for.
  void finish();

 private:
  enum class Presence : std::uint8_t { defaulted, required, optional };

  template <class E>
  static std::vector<std::string_view> names_of(std::span<const NamedValue<E>> names) {
    std::vector<std::string_view> out;
    for (const auto& entry : names) out.push_back(entry.name);
    return out;
  }

  const nlohmann::json* find(std::string_view key, Presence presence);
  std::optional<double> read_number(std::string_view key, double low, double high, Presence p);
  std::optional<std::int64_t> read_integer(std::string_view key, std::int64_t low,
                                           std::int64_t high, Presence p);
  std::optional<bool> read_boolean(std::string_view key, Presence p);
  std::optional<std::string> read_string(std::string_view key, std::size_t max_length, Presence p);
  std::optional<std::size_t> choose(std::string_view key,
                                    const std::vector<std::string_view>& names, Presence p);
  const nlohmann::json* read_array(std::string_view key, std::size_t min_items,
                                   std::size_t max_items, Presence p);

  const nlohmann::json* value_;
  std::string place_;
  Problems* problems_;
  bool is_object_;
  std::vector<std::string> asked_;
};

/// One number of an array or elsewhere: reported at `place` when it is no number or out of range.
std::optional<double> read_number(const nlohmann::json& value, const std::string& place, double low,
                                  double high, Problems& problems);

/// The candidate that `word` looks like a misspelling of; empty when none is near.
std::string find_nearest(std::string_view word, std::span<const std::string> candidates);

}  // namespace redress
