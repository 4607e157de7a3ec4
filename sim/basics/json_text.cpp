// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Text to JSON within limits. The library's own parser checks grammar and UTF-8 and does not
// recurse; this handler builds the value and stops at the first array or object too deep and at the
// first repeated key, before anything is stored of it.
#include <cstddef>
#include <iterator>
#include <set>
#include <string>
#include <utility>

#include "sim/basics/json_reader.hpp"

namespace redress {
namespace {

using nlohmann::json;

// Hands out the bytes and keeps in *seen how far the parser has read.
class CountingIterator {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, const char** seen) : at_(at), seen_(seen) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    *seen_ = ++at_;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
  bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

 private:
  const char* at_;
  const char** seen_;
};

std::string position_text(std::string_view text, std::size_t offset) {
  std::size_t line = 1;
  std::size_t column = 1;
  for (std::size_t i = 0; i < offset && i < text.size(); ++i) {
    ++column;
    if (text[i] == '\n') {
      ++line;
      column = 1;
    }
  }
  return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

bool holds(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

// The word or the sign at fault, as a person sees it in an editor.
std::string found_at(std::string_view text, std::size_t offset) {
  if (offset >= text.size()) return "the text ends";
  const auto is_word = [&](std::size_t i) {
    const char c = text[i];
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '.' || c == '+' || c == '-';
  };
  std::size_t first = offset;
  std::size_t end = offset + 1;
  if (is_word(offset)) {
    while (first > 0 && is_word(first - 1)) --first;
    while (end < text.size() && is_word(end)) ++end;
  }
  std::string found{text.substr(first, end - first)};
  constexpr std::size_t kMostBytes = 40;
  if (found.size() > kMostBytes) found = found.substr(0, kMostBytes) + "...";
  const auto byte = static_cast<unsigned char>(found.front());
  if (byte >= 0x20U && byte <= 0x7eU) return "found " + found;
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  return std::string{"found the byte 0x"} + kDigits[byte / 16U] + kDigits[byte % 16U];
}

// What the library complains of, in words for whoever wrote the file: what is there and what may
// be. It says where it was ("while parsing ...") and, of a token that is none, why not.
std::string plain_reason(std::string_view what, std::string_view text, std::size_t offset) {
  const std::string found = found_at(text, offset);
  struct Words {
    std::string_view of_library;
    std::string_view wrong;  // empty: what was found
    std::string_view allowed;
  };
  constexpr Words kWords[] = {
      {"missing closing quote", "a text without its closing quote", "\" at the end of a text"},
      {"control character", "a line break or control character inside a text",
       "such a character written as an escape, for instance \\n"},
      {"UTF-8", "bytes that are not UTF-8", "text in UTF-8"},
      {"surrogate", "half of a pair of \\u escapes", "both halves, or the letter itself"},
      {"'\\u'", "\\u without four hexadecimal digits", "\\u0000 to \\uFFFF"},
      {"backslash", "an escape that JSON does not have",
       "\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u0000"},
      {"invalid number", "", "a number such as 12, -0.5 or 1e-3"},
      {"number overflow", "", "a number of at most 1.7e308"},
      {"parsing object key", "", "a name in double quotes"},
      {"parsing object separator", "", ": between a name and its value"},
      {"; expected end of input", "", "nothing after the one value"},
      {"parsing object", "", ", or } after a value"},
      {"parsing array", "", ", or ] after a value"},
  };
  for (const Words& words : kWords) {
    if (!holds(what, words.of_library)) continue;
    return (words.wrong.empty() ? found : std::string{words.wrong}) +
           "; allowed here: " + std::string{words.allowed};
  }
  return found + "; allowed here: a text in double quotes, a number, true, false, null, { or [";
}

// Builds the value while the parser reads. Answers false to make it stop.
class Builder : public nlohmann::json_sax<json> {
 public:
  Builder(std::string_view text, const JsonLimits& limits, const char** seen)
      : text_(text), limits_(limits), seen_(seen) {}

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(json::object()); }
  bool start_array(std::size_t) override { return open(json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    if (open_.back()->contains(name)) {
      problem_ = {pointer_to(place(), name),
                  "is given twice (again at " + here() + "); allowed: each key once"};
      return false;
    }
    keys_.back() = name;
    return true;
  }

  bool parse_error(std::size_t position, const std::string&,
                   const nlohmann::detail::exception& error) override {
    // The position counts the bytes read; the last of them is the one at fault, and one more than
    // there are where the text ends too early.
    const std::size_t at = position == 0 ? 0 : position - 1;
    problem_ = {place(), "is not JSON: " + position_text(text_, at) + ": " +
                             plain_reason(error.what(), text_, at)};
    return false;
  }

  json take_value() { return std::move(root_); }
  [[nodiscard]] const Problem& problem() const { return problem_; }

 private:
  json* place_value(json value) {
    if (open_.empty()) {
      root_ = std::move(value);
      return &root_;
    }
    json& parent = *open_.back();
    if (parent.is_array()) {
      parent.push_back(std::move(value));
      return &parent.back();
    }
    json& slot = parent[keys_.back()];
    slot = std::move(value);
    return &slot;
  }

  bool put(json value) {
    place_value(std::move(value));
    return true;
  }

  bool open(json container) {
    if (open_.size() >= limits_.depth) {
      problem_ = {"", "is nested too deeply at " + here() +
                          "; allowed: " + std::to_string(limits_.depth) + " levels"};
      return false;
    }
    // The address stays good: nothing is added to the parent before this one is closed.
    open_.push_back(place_value(std::move(container)));
    keys_.emplace_back();
    return true;
  }

  bool close() {
    open_.pop_back();
    keys_.pop_back();
    return true;
  }

  // Pointer of the container being read.
  [[nodiscard]] std::string place() const {
    std::string out;
    for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
      out =
          open_[i]->is_array() ? pointer_to(out, open_[i]->size() - 1) : pointer_to(out, keys_[i]);
    }
    return out;
  }

  [[nodiscard]] std::string here() const {
    const auto read = static_cast<std::size_t>(*seen_ - text_.data());
    return position_text(text_, read == 0 ? 0 : read - 1);
  }

  std::string_view text_;
  JsonLimits limits_;
  const char** seen_;
  json root_;
  std::vector<json*> open_;
  std::vector<std::string> keys_;
  Problem problem_{"", "is not JSON"};
};

}  // namespace

Result<json> parse_json(std::string_view text, const JsonLimits& limits) {
  if (text.size() > limits.size_bytes) {
    return Problems{{"", "is too large: " + std::to_string(text.size()) +
                             " bytes; allowed: " + std::to_string(limits.size_bytes) + " bytes"}};
  }
  // The library takes a NUL for the end of the text and would not see what follows.
  const std::size_t nul = text.find('\0');
  if (nul != std::string_view::npos) {
    return Problems{{"", "is not JSON: " + position_text(text, nul) +
                             ": found the byte 0x00; allowed here: text"}};
  }
  const char* seen = text.data();
  Builder builder(text, limits, &seen);
  try {
    const char* end = text.data() + text.size();
    const bool whole = json::sax_parse(CountingIterator(text.data(), &seen),
                                       CountingIterator(end, &seen), &builder);
    if (whole) return builder.take_value();
  } catch (const std::exception& error) {
    return Problems{{"", std::string("is not JSON: ") + error.what()}};
  }
  return Problems{builder.problem()};
}

}  // namespace redress
