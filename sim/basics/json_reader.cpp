// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The object reader. The text parser is in json_text.cpp.
#include "sim/basics/json_reader.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace redress {
namespace {

using nlohmann::json;

constexpr std::int64_t kLargestWhole = std::int64_t{1} << 53;
constexpr std::size_t kShownBytes = 60;

const json& empty_object() {
  static const json kEmpty = json::object();
  return kEmpty;
}

std::string kind_of(const json& value) {
  if (value.is_null()) return "null";
  if (value.is_boolean()) return "a boolean";
  if (value.is_number()) return "a number";
  if (value.is_string()) return "a string";
  if (value.is_array()) return "an array";
  return "an object";
}

std::string wrong_type(const json& value, std::string_view wanted) {
  return "is " + kind_of(value) + ": " + short_text(value) + "; allowed: " + std::string(wanted);
}

std::string span_text(double low, double high) { return to_text(low) + " to " + to_text(high); }

template <class Names>
std::string joined(const Names& names) {
  std::string out;
  for (const auto& name : names) {
    if (!out.empty()) out += ", ";
    out += name;
  }
  return out;
}

// Edits (insert, delete, replace, swap of neighbours) from one word to the other.
std::size_t count_edits(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replace = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, replace});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string pointer_to(std::string_view parent, std::string_view key) {
  std::string out(parent);
  out += '/';
  const bool long_key = key.size() > kShownBytes;
  if (long_key) {
    std::size_t cut = kShownBytes;
    while (cut > 0 && (static_cast<unsigned char>(key[cut]) & 0xC0U) == 0x80U) --cut;
    key = key.substr(0, cut);
  }
  for (const char c : key) {
    if (c == '~') {
      out += "~0";
    } else if (c == '/') {
      out += "~1";
    } else if (static_cast<unsigned char>(c) < 0x20U) {
      out += '?';
    } else {
      out += c;
    }
  }
  if (long_key) out += "...";
  return out;
}

std::string pointer_to(std::string_view parent, std::size_t index) {
  return std::string(parent) + "/" + std::to_string(index);
}

std::string short_text(const json& value) {
  // A string or container could be megabytes: only what may be shown is written out.
  std::string out;
  if (value.is_string() && value.get_ref<const std::string&>().size() > kShownBytes) {
    const std::string& whole = value.get_ref<const std::string&>();
    out = json(whole.substr(0, kShownBytes)).dump(-1, ' ', false, json::error_handler_t::ignore);
    return out + "... (" + std::to_string(whole.size()) + " bytes)";
  }
  if (value.is_structured() && value.size() > kShownBytes) {
    return value.is_array() ? "[" + std::to_string(value.size()) + " items]"
                            : "{" + std::to_string(value.size()) + " keys}";
  }
  out = value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (out.size() <= kShownBytes) return out;
  std::size_t cut = kShownBytes;
  while (cut > 0 && (static_cast<unsigned char>(out[cut]) & 0xC0U) == 0x80U) --cut;
  return out.substr(0, cut) + "...";
}

std::string to_text(double value) { return to_json_number(value).dump(); }

json to_json_number(double value) {
  const auto limit = static_cast<double>(kLargestWhole);
  if (value >= -limit && value <= limit) {
    const auto whole = static_cast<std::int64_t>(value);
    if (static_cast<double>(whole) == value) return whole;
  }
  return value;
}

std::string find_nearest(std::string_view word, std::span<const std::string> candidates) {
  constexpr std::size_t kLongestCompared = 64;
  if (word.size() > kLongestCompared) return {};
  std::string best;
  std::size_t fewest = std::max<std::size_t>(2, word.size() / 4) + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t edits = count_edits(word, candidate);
    // Two short words that share almost nothing are not a typing error.
    if (edits < fewest && 2 * edits < std::max(word.size(), candidate.size())) {
      fewest = edits;
      best = candidate;
    }
  }
  return best;
}

std::optional<double> read_number(const json& value, const std::string& place, double low,
                                  double high, Problems& problems) {
  if (!value.is_number()) {
    problems.push_back({place, wrong_type(value, "a number from " + span_text(low, high))});
    return std::nullopt;
  }
  const double x = value.get<double>();
  if (!(x >= low && x <= high)) {  // written so that NaN fails too
    problems.push_back(
        {place, "is out of range: " + short_text(value) + "; allowed: " + span_text(low, high)});
    return std::nullopt;
  }
  return x;
}

ObjectReader::ObjectReader(const json& value, std::string place, Problems& problems)
    : value_(&value),
      place_(std::move(place)),
      problems_(&problems),
      is_object_(value.is_object()) {
  if (is_object_) return;
  problems_->push_back({place_, wrong_type(value, "an object")});
  value_ = &empty_object();
}

bool ObjectReader::has(std::string_view key) const { return value_->contains(key); }

const json* ObjectReader::raw(std::string_view key) { return find(key, Presence::defaulted); }

const json* ObjectReader::find(std::string_view key, Presence presence) {
  asked_.emplace_back(key);
  const auto found = value_->find(key);
  if (found == value_->end()) {
    if (presence == Presence::required && is_object_) report(key, "is missing; it is required");
    return nullptr;
  }
  if (presence == Presence::optional && found->is_null()) return nullptr;
  return &*found;
}

void ObjectReader::report(std::string_view key, std::string message) {
  problems_->push_back({place_of(key), std::move(message)});
}

std::optional<double> ObjectReader::read_number(std::string_view key, double low, double high,
                                                Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return std::nullopt;
  return redress::read_number(*found, place_of(key), low, high, *problems_);
}

std::optional<std::int64_t> ObjectReader::read_integer(std::string_view key, std::int64_t low,
                                                       std::int64_t high, Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return std::nullopt;
  const std::string allowed =
      "a whole number from " + std::to_string(low) + " to " + std::to_string(high);
  if (!found->is_number()) {
    report(key, wrong_type(*found, allowed));
    return std::nullopt;
  }
  // Larger numbers may have lost their last digit on the way through a double.
  const double x = found->get<double>();
  const auto limit = static_cast<double>(kLargestWhole);
  const bool in_reach = x >= -limit && x <= limit;
  const auto whole = in_reach ? static_cast<std::int64_t>(x) : 0;
  if (!in_reach || static_cast<double>(whole) != x || whole < low || whole > high) {
    const bool fraction = in_reach && static_cast<double>(whole) != x;
    report(key, (fraction ? "is not whole: " : "is out of range: ") + short_text(*found) +
                    "; allowed: " + allowed);
    return std::nullopt;
  }
  return whole;
}

std::optional<bool> ObjectReader::read_boolean(std::string_view key, Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return std::nullopt;
  if (!found->is_boolean()) {
    report(key, wrong_type(*found, "true or false"));
    return std::nullopt;
  }
  return found->get<bool>();
}

std::optional<std::string> ObjectReader::read_string(std::string_view key, std::size_t max_length,
                                                     Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return std::nullopt;
  const std::string allowed = "a string of at most " + std::to_string(max_length) + " bytes";
  if (!found->is_string()) {
    report(key, wrong_type(*found, allowed));
    return std::nullopt;
  }
  const std::string& text = found->get_ref<const std::string&>();
  if (text.size() > max_length) {
    report(key, "is too long: " + std::to_string(text.size()) + " bytes; allowed: " + allowed);
    return std::nullopt;
  }
  return text;
}

std::optional<std::size_t> ObjectReader::choose(std::string_view key,
                                                const std::vector<std::string_view>& names,
                                                Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return std::nullopt;
  if (!found->is_string()) {
    report(key, wrong_type(*found, "one of " + joined(names)));
    return std::nullopt;
  }
  const std::string& word = found->get_ref<const std::string&>();
  const auto place = std::find(names.begin(), names.end(), word);
  if (place == names.end()) {
    report(key, "is unknown: " + short_text(*found) + "; allowed: one of " + joined(names));
    return std::nullopt;
  }
  return static_cast<std::size_t>(place - names.begin());
}

const json* ObjectReader::read_array(std::string_view key, std::size_t min_items,
                                     std::size_t max_items, Presence p) {
  const json* found = find(key, p);
  if (found == nullptr) return nullptr;
  const std::string count = min_items == max_items
                                ? std::to_string(min_items)
                                : std::to_string(min_items) + " to " + std::to_string(max_items);
  const std::string allowed = "an array of " + count + " items";
  if (!found->is_array()) {
    report(key, wrong_type(*found, allowed));
    return nullptr;
  }
  if (found->size() < min_items || found->size() > max_items) {
    report(key, "has " + std::to_string(found->size()) + " items: " + short_text(*found) +
                    "; allowed: " + allowed);
    return nullptr;
  }
  return found;
}

double ObjectReader::number(std::string_view key, double low, double high, double otherwise) {
  return read_number(key, low, high, Presence::defaulted).value_or(otherwise);
}
std::optional<double> ObjectReader::required_number(std::string_view key, double low, double high) {
  return read_number(key, low, high, Presence::required);
}
std::optional<double> ObjectReader::optional_number(std::string_view key, double low, double high) {
  return read_number(key, low, high, Presence::optional);
}

std::int64_t ObjectReader::integer(std::string_view key, std::int64_t low, std::int64_t high,
                                   std::int64_t otherwise) {
  return read_integer(key, low, high, Presence::defaulted).value_or(otherwise);
}
std::optional<std::int64_t> ObjectReader::required_integer(std::string_view key, std::int64_t low,
                                                           std::int64_t high) {
  return read_integer(key, low, high, Presence::required);
}
std::optional<std::int64_t> ObjectReader::optional_integer(std::string_view key, std::int64_t low,
                                                           std::int64_t high) {
  return read_integer(key, low, high, Presence::optional);
}

bool ObjectReader::boolean(std::string_view key, bool otherwise) {
  return read_boolean(key, Presence::defaulted).value_or(otherwise);
}
std::optional<bool> ObjectReader::required_boolean(std::string_view key) {
  return read_boolean(key, Presence::required);
}
std::optional<bool> ObjectReader::optional_boolean(std::string_view key) {
  return read_boolean(key, Presence::optional);
}

std::string ObjectReader::string(std::string_view key, std::size_t max_length,
                                 std::string otherwise) {
  return read_string(key, max_length, Presence::defaulted).value_or(std::move(otherwise));
}
std::optional<std::string> ObjectReader::required_string(std::string_view key,
                                                         std::size_t max_length) {
  return read_string(key, max_length, Presence::required);
}
std::optional<std::string> ObjectReader::optional_string(std::string_view key,
                                                         std::size_t max_length) {
  return read_string(key, max_length, Presence::optional);
}

const json* ObjectReader::array(std::string_view key, std::size_t min_items,
                                std::size_t max_items) {
  return read_array(key, min_items, max_items, Presence::defaulted);
}
const json* ObjectReader::required_array(std::string_view key, std::size_t min_items,
                                         std::size_t max_items) {
  return read_array(key, min_items, max_items, Presence::required);
}

ObjectReader ObjectReader::object(std::string_view key) {
  const json* found = find(key, Presence::defaulted);
  return {found == nullptr ? empty_object() : *found, place_of(key), *problems_};
}

ObjectReader ObjectReader::required_object(std::string_view key) {
  const json* found = find(key, Presence::required);
  if (found != nullptr) return {*found, place_of(key), *problems_};
  ObjectReader absent(empty_object(), place_of(key), *problems_);
  absent.is_object_ = false;  // its own required keys are not reported as well
  return absent;
}

void ObjectReader::finish() {
  constexpr std::size_t kMostReported = 50;
  std::size_t reported = 0;
  std::size_t unknown = 0;
  for (const auto& [key, value] : value_->items()) {
    if (std::find(asked_.begin(), asked_.end(), key) != asked_.end()) continue;
    ++unknown;
    if (reported >= kMostReported) continue;
    ++reported;
    std::string message = "is not a key of this object: " + short_text(json(key)) + "; ";
    const std::string nearest = find_nearest(key, asked_);
    if (!nearest.empty()) message += "did you mean " + nearest + "? ";
    report(key, message + "allowed: " + joined(asked_));
  }
  if (unknown > reported) {
    problems_->push_back(
        {place_, "has " + std::to_string(unknown - reported) + " more unknown keys"});
  }
}

}  // namespace redress
