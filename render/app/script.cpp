// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/script.hpp"

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>

namespace redress::app {

namespace {

using window::Key;

struct NamedKey {
  std::string_view name;
  Key key;
};
constexpr NamedKey kKeys[] = {
    {"Enter", Key::enter},
    {"Esc", Key::escape},
    {"Backspace", Key::backspace},
    {"Tab", Key::tab},
    {"Space", Key::space},
    {"Minus", Key::minus},
    {"Equals", Key::equals},
    {"[", Key::left_bracket},
    {"]", Key::right_bracket},
    {";", Key::semicolon},
    {",", Key::comma},
    {".", Key::period},
    {"/", Key::slash},
    {"Home", Key::home},
    {"End", Key::end},
    {"PageUp", Key::page_up},
    {"PageDown", Key::page_down},
    {"Delete", Key::delete_forward},
    {"Left", Key::left},
    {"Right", Key::right},
    {"Up", Key::up},
    {"Down", Key::down},
    {"0", Key::digit0},
    {"Pad0", Key::pad0},
    {"PadEnter", Key::pad_enter},
};

template <class Number>
std::optional<Number> parse_number(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

Key shifted(Key first, int by) { return static_cast<Key>(static_cast<int>(first) + by); }

Key find_key(std::string_view name) {
  for (const NamedKey& each : kKeys) {
    if (each.name == name) return each.key;
  }
  if (name.size() == 1 && name[0] >= 'A' && name[0] <= 'Z') return shifted(Key::a, name[0] - 'A');
  if (name.size() == 1 && name[0] >= '1' && name[0] <= '9') {
    return shifted(Key::digit1, name[0] - '1');
  }
  if (name.size() >= 2 && name[0] == 'F') {
    const auto number = parse_number<int>(name.substr(1));
    if (number && *number >= 1 && *number <= 12) return shifted(Key::f1, *number - 1);
  }
  if (name.size() == 4 && name.starts_with("Pad") && name[3] >= '1' && name[3] <= '9') {
    return shifted(Key::pad1, name[3] - '1');
  }
  return Key::none;
}

std::string_view take_word(std::string_view& rest) {
  const std::size_t begin = std::min(rest.find_first_not_of(' '), rest.size());
  rest.remove_prefix(begin);
  const std::size_t end = std::min(rest.find(' '), rest.size());
  const std::string_view word = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return word;
}

std::optional<window::MouseButton> find_button(std::string_view name) {
  if (name == "left" || name.empty()) return window::MouseButton::left;
  if (name == "right") return window::MouseButton::right;
  if (name == "wheel") return window::MouseButton::wheel;
  return std::nullopt;
}

class Reader {
 public:
  /// Empty: understood.
  std::string read(std::string_view line) {
    const auto at = parse_number<double>(take_word(line));
    if (!at || *at < 0) return "begin with a time in ms, 0 or more";
    ScriptStep step;
    step.at_ms = *at;
    const std::string_view what = take_word(line);
    if (what == "click") return add(step, ClickLabel{std::string{line}});
    if (what == "shot") return add(step, TakePicture{std::string{line}});
    if (what == "type")
      return add(step, window::InputContent{window::input::Text{std::string{line}}});
    if (what == "lose" && line == "graphics") return add(step, LoseGraphics{});
    if (what == "screen") {
      const auto ratio = parse_number<double>(take_word(line));
      if (!ratio || *ratio < 1 || *ratio > 4) return "screen: pixels a point, 1 to 4";
      return add(step, MoveToScreen{*ratio});
    }
    if (what == "move") return read_move(step, line);
    if (what == "press" || what == "release") return read_button(step, line, what == "press");
    if (what == "key" || what == "down" || what == "up") return read_key(step, line, what);
    if (what == "wheel") {
      const auto notches = parse_number<double>(take_word(line));
      if (!notches) return "wheel: a number of notches";
      return add(step, window::InputContent{window::input::Wheel{*notches, 0}});
    }
    return "unknown: " + std::string{what};
  }
  std::vector<ScriptStep> take() { return std::move(steps_); }

 private:
  template <class What>
  std::string add(ScriptStep step, What what) {
    step.what = std::move(what);
    steps_.push_back(std::move(step));
    return "";
  }
  std::string read_move(const ScriptStep& step, std::string_view line) {
    const auto x = parse_number<double>(take_word(line));
    const auto y = parse_number<double>(take_word(line));
    if (!x || !y) return "move: two numbers, pixels";
    x_ = *x;
    y_ = *y;
    return add(step, window::InputContent{window::input::PointerMove{x_, y_}});
  }
  std::string read_button(const ScriptStep& step, std::string_view line, bool down) {
    const auto button = find_button(take_word(line));
    if (!button) return "buttons are left, right and wheel";
    return add(step, window::InputContent{window::input::PointerButton{*button, down, x_, y_}});
  }
  std::string read_key(ScriptStep step, std::string_view line, std::string_view what) {
    for (std::string_view name = take_word(line); !name.empty(); name = take_word(line)) {
      if (name == "Shift") step.modifiers.shift = true;
      if (name == "Ctrl") step.modifiers.control = true;
      if (name == "Shift" || name == "Ctrl") continue;
      const Key key = find_key(name);
      if (key == Key::none) return "no key is called " + std::string{name};
      if (what != "up") {
        add(step, window::InputContent{window::input::KeyChange{key, true, false}});
      }
      if (what != "down") {
        add(step, window::InputContent{window::input::KeyChange{key, false, false}});
      }
    }
    return "";
  }

  std::vector<ScriptStep> steps_;
  double x_ = 0;
  double y_ = 0;
};

}  // namespace

Result<std::vector<ScriptStep>> parse_script(std::string_view text) {
  Reader reader;
  Problems problems;
  int number = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    ++number;
    while (!line.empty() && (line.back() == ' ' || line.back() == '\r')) line.remove_suffix(1);
    if (line.empty() || line.front() == '#') continue;
    const std::string problem = reader.read(line);
    if (!problem.empty()) problems.push_back({"line " + std::to_string(number), problem});
  }
  if (!problems.empty()) return problems;
  return reader.take();
}

}  // namespace redress::app
