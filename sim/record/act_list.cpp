// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lists of acts as text: JSON lines, or one JSON array.
#include <algorithm>
#include <iterator>
#include <string>
#include <utility>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/record/act_json.hpp"

namespace redress::record {

namespace {

constexpr std::string_view kBlanks = " \t\r";
constexpr std::size_t kMostProblems = 1000;
/// The longest act is a note with three long texts, each byte escaped as six.
constexpr JsonLimits kLineLimits{.size_bytes = 128 * 1024, .depth = 8};
constexpr JsonLimits kArrayLimits{.size_bytes = kLargestFile, .depth = 8};

/// Gathers acts and problems, and watches the order.
class ActList {
 public:
  /// `place` is of the act as a whole: "line 3" or "/3"; `at_place` of its time.
  void add(const Result<Act>& read, const std::string& at_place) {
    if (!read.ok()) {
      add(read.problems());
      return;
    }
    const Act& act = read.value();
    if (act.at_ms < latest_) {
      add({{at_place, "is a step back: " + std::to_string(act.at_ms) + "; allowed: " +
                          std::to_string(latest_) + " or later, as acts are in order of time"}});
    }
    latest_ = std::max(latest_, act.at_ms);
    if (acts_.size() == kMostActs) {
      add({{at_place, "is one act too many; allowed: " + std::to_string(kMostActs)}});
      full_ = true;
    }
    acts_.push_back(act);
  }

  void add(const Problems& problems) {
    for (const Problem& problem : problems) {
      if (problems_.size() < kMostProblems) {
        problems_.push_back(problem);
      } else {
        ++unlisted_;
      }
    }
  }

  /// Reading on would only cost memory.
  [[nodiscard]] bool full() const { return full_; }

  Result<std::vector<Act>> take() {
    if (unlisted_ > 0) {
      problems_.push_back({"", "has " + std::to_string(unlisted_) + " more problems"});
    }
    if (!problems_.empty()) return std::move(problems_);
    return std::move(acts_);
  }

 private:
  std::vector<Act> acts_;
  Problems problems_;
  std::size_t unlisted_ = 0;
  Tick latest_ = 0;
  bool full_ = false;
};

/// A line is parsed alone, so the parser's own "line 1, " says nothing.
std::string without_line(std::string message) {
  constexpr std::string_view kLineOne = "line 1, ";
  const std::size_t at = message.find(kLineOne);
  if (at != std::string::npos) message.erase(at, kLineOne.size());
  return message;
}

Result<std::vector<Act>> parse_lines(std::string_view text) {
  ActList list;
  std::size_t number = 0;
  while (!text.empty() && !list.full()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    ++number;
    if (line.find_first_not_of(kBlanks) == std::string_view::npos) continue;
    const std::string place = "line " + std::to_string(number);
    const Result<nlohmann::json> value = parse_json(line, kLineLimits);
    if (value.ok()) {
      list.add(parse_act(value.value(), place), place + " /at_ms");
      continue;
    }
    for (const Problem& problem : value.problems()) {
      list.add({{place + (problem.place.empty() ? "" : " " + problem.place),
                 without_line(problem.message)}});
    }
  }
  return list.take();
}

Result<std::vector<Act>> parse_array(std::string_view text) {
  const Result<nlohmann::json> value = parse_json(text, kArrayLimits);
  if (!value.ok()) return value.problems();
  ActList list;
  for (std::size_t i = 0; i < value.value().size() && !list.full(); ++i) {
    Result<Act> read = parse_act(value.value()[i]);
    const std::string place = pointer_to("", i);
    if (!read.ok()) {
      Problems problems = read.problems();
      for (Problem& problem : problems) problem.place.insert(0, place);
      read = std::move(problems);
    }
    list.add(read, place + "/at_ms");
  }
  return list.take();
}

}  // namespace

Result<std::vector<Act>> parse_acts(std::string_view text) {
  if (text.size() > kLargestFile) {
    return Problems{{"", "is too large: " + std::to_string(text.size()) +
                             " bytes; allowed: " + std::to_string(kLargestFile) + " bytes"}};
  }
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first != std::string_view::npos && text[first] == '[') return parse_array(text);
  return parse_lines(text);
}

}  // namespace redress::record
