// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/desk_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "render/screens/examine/room_view.hpp"
#include "sim/assessment/clocks.hpp"

namespace redress::app {

namespace as = assessment;

namespace {

// A file of a newer version may say other things there.
std::int64_t number_of(const as::DeskEvent& event, const char* key) {
  const auto found = event.detail.find(key);
  return found != event.detail.end() && found->is_number_integer() ? found->get<std::int64_t>() : 0;
}

}  // namespace

std::optional<std::string> describe_event(const as::DeskEvent& event) {
  if (event.what == "began" || event.what == "handed_in" || event.what.starts_with("reading")) {
    return std::nullopt;
  }
  std::string words = event.what;
  std::replace(words.begin(), words.end(), '_', ' ');
  if (event.what == "time_credit") {
    words = fmt::format("{} s given", number_of(event, "ms") / 1000);
  } else if (event.what == "stood_still") {
    words = "the computer stood still for " + as::write_span(number_of(event, "ms"));
  } else if (event.what == "clock_set" || event.what == "clock_differs") {
    words = as::to_words(as::ClockFault{0, number_of(event, "by_ms"), event.what != "clock_set"});
  }
  for (const char* key : {"reason", "words"}) {
    const auto found = event.detail.find(key);
    const bool said =
        found != event.detail.end() && found->is_string() && !found->get<std::string>().empty();
    if (said) words += ": " + found->get<std::string>();
  }
  return screens::examine::format_time_left(event.at_ms) + " " + words;
}

std::string describe_events(std::span<const as::DeskEvent> events) {
  std::string text;
  const auto add = [&](const std::string& words) {
    text += (text.empty() ? "At the desk: " : "  ·  ") + words;
  };
  const auto is_told = [&](const as::ClockFault& fault) {
    return std::any_of(events.begin(), events.end(), [&](const as::DeskEvent& event) {
      return event.at_ms == fault.at_ms && event.what.starts_with("clock_");
    });
  };
  for (const as::DeskEvent& event : events) {
    if (const auto words = describe_event(event)) add(*words);
  }
  for (const as::ClockFault& fault : as::find_clock_faults(events)) {
    if (is_told(fault)) continue;
    add(screens::examine::format_time_left(fault.at_ms) + " " + as::to_words(fault));
  }
  return text;
}

}  // namespace redress::app
