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

// The library's sentence without its number and position, which this file gives itself.
std::string plain_reason(const std::string& what) {
  std::string reason = what.substr(what.find("] ") == std::string::npos ? 0 : what.find("] ") + 2);
  if (reason.rfind("parse error", 0) == 0) {
    const std::size_t colon = reason.find(": ");
    if (colon != std::string::npos) reason = reason.substr(colon + 2);
  }
  // It quotes the last token, which may be long and is not always UTF-8.
  constexpr std::size_t kMostBytes = 200;
  if (reason.size() > kMostBytes) reason = reason.substr(0, kMostBytes) + "...";
  for (char& c : reason) {
    if (static_cast<unsigned char>(c) < 0x20U || static_cast<unsigned char>(c) > 0x7eU) c = '?';
  }
  return reason;
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
    // The position counts the bytes read; the last of them is the one at fault.
    problem_ = {"", "is not JSON: " + position_text(text_, position == 0 ? 0 : position - 1) +
                        ": " + plain_reason(error.what())};
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
    return Problems{{"", "is not JSON: " + position_text(text, nul) + ": a NUL byte"}};
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
