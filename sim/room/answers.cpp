// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/answers.hpp"

#include "sim/basics/elementary.hpp"

namespace redress {

namespace {

constexpr Tick kSpeechMs = 900;     // a patient answers within 0.5 to 1.5 s
constexpr Tick kRequestMs = 15000;  // 10 to 20 s for a finding on request

struct Said {
  std::string answer;
  std::string text;
};

// Eso is uncrossed, exo crossed; the higher eye sees the lower image.
Said say_arrangement(const patient::Percept& p) {
  if (!p.is_double) return {"single", "There is only one."};
  const bool beside = elementary::magnitude(p.separation_deg) > 0.5;
  const bool above = elementary::magnitude(p.vertical_deg) > 0.4;
  if (beside && above) return {"side_by_side_and_above", "Side by side, and one is higher."};
  if (above) return {"one_above_the_other", "One above the other."};
  return {"side_by_side", "Two, side by side."};
}

Said say(std::string_view what, const patient::Percept& p, const patient::Retinas& retinas) {
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  if (what == "single_or_double") {
    if (!right && !left) return {"none", "I cannot see it."};
    return p.is_double ? Said{"double", "Two of them."} : Said{"single", "It's single."};
  }
  if (what == "clear") {
    if (!right && !left) return {"none", "I cannot see it."};
    return p.clear ? Said{"clear", "Yes, it's clear."} : Said{"blurred", "It's blurred."};
  }
  if (what == "jump") return p.jumped ? Said{"jumped", "It jumped."} : Said{"still", "No."};
  if (what == "which_eye_removes_it") {
    return p.is_double ? Said{"either", "It goes when I shut either eye."}
                       : Said{"single", "There is only one."};
  }
  if (what == "arrangement") return say_arrangement(p);
  if (what == "where_worst") {
    return p.is_double ? Said{"same", "About the same everywhere."}
                       : Said{"single", "There is only one."};
  }
  return {};
}

const std::string* find(const Answers& answers, std::string_view what) {
  for (const auto& [key, text] : answers) {
    if (key == what) return &text;
  }
  return nullptr;
}

}  // namespace

Reply answer_question(std::string_view what, const patient::Percept& percept,
                      const patient::Retinas& retinas, const Answers& history, Tick now) {
  const Said said = say(what, percept, retinas);
  if (!said.answer.empty()) return {now + kSpeechMs, std::string{what}, said.answer, said.text};
  if (const std::string* text = find(history, what)) {
    return {now + kSpeechMs, std::string{what}, "history", *text};
  }
  return {now + kSpeechMs, std::string{what}, "not_known", "I couldn't say."};
}

Reply answer_request(std::string_view what, const Answers& on_file, Tick now) {
  if (const std::string* text = find(on_file, what)) {
    return {now + kRequestMs, std::string{what}, "on_file", *text};
  }
  return {now + kRequestMs, std::string{what}, "not_on_file", "Nothing on file."};
}

}  // namespace redress
