// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/history.hpp"

#include <algorithm>

namespace redress::examiners {

bool contains(const std::string& text, std::string_view word) {
  return text.find(word) != std::string::npos;
}

bool contains_any(const std::string& text, std::initializer_list<std::string_view> words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return contains(text, word); });
}

namespace {

// The twelve questions of a first history, as teachers list them (common practice, no source).
constexpr std::string_view kQuestions[] = {
    "onset",  "double_vision",      "variation", "tired_eyes", "headache", "injury",
    "health", "previous_treatment", "family",    "work",       "school",   "bright_light"};

bool denies(const std::string& answer) {
  return answer.empty() || answer.rfind("No", 0) == 0 || contains(answer, "couldn't say");
}

bool tells_of_sudden(const std::string& answer) {
  return contains_any(answer, {"yesterday", "Yesterday", "this morning", "This morning", "days ago",
                               "suddenly", "Suddenly", "last night", "overnight"});
}

bool tells_of_weeks(const std::string& answer) {
  return contains_any(answer, {"week ago", "weeks ago", "a week", "two weeks", "three weeks"});
}

// Worse lying down, on waking, with sickness: raised pressure until it is known otherwise.
bool tells_of_pressure(const std::string& answer) {
  return !contains(answer, "Not ") && !denies(answer) &&
         contains_any(answer, {"lying", "waking", "in bed", "was sick"});
}

// What changes what has to be done, whatever the eyes show.
void tell_from_answers(Consulting& room, WholeFinding& e) {
  const std::string double_vision = room.find_answer("double_vision");
  e.double_with_one_eye = contains_any(double_vision, {"stays when I cover", "stays when I shut"});
  const std::string headache = room.find_answer("headache");
  const std::string health = room.find_answer("health");
  const bool sore = !denies(headache) && !contains_any(headache, {"No sore", "no sore"}) &&
                    contains_any(headache, {"temple", "scalp", "combing"});
  const bool jaw =
      contains(health, "jaw") && !contains_any(health, {"No jaw", "no jaw", "is fine"});
  e.sore_temple = e.presbyope && (sore || jaw);
  e.reels = contains_any(health, {"reel", "fall to", "fall over"});
  e.thyroid = contains(health, "thyroid");
}

// Who cannot see and has no reason not to is encouraged.
void ask_to_read_more(Consulting& room, WholeFinding& e) {
  room.act(act::Request{"said_acuity"});
  room.wait(kFileMs);
  e.reads_more = contains(room.find_answer("said_acuity"), "with encouragement");
}

}  // namespace

void take_history(Consulting& room, WholeFinding& e) {
  for (const std::string_view question : kQuestions) {
    room.act(act::Ask{std::string{question}});
    room.wait(kAnswerMs);
  }
  room.act(act::Request{"acuity"});
  room.wait(kFileMs);
  if (contains(room.find_answer("school"), "not like")) ask_to_read_more(room, e);
  e.acuity_logmar = read_acuity(room.find_answer("acuity"));
  e.sees_double = !denies(room.find_answer("double_vision"));
  e.new_and_sudden = tells_of_sudden(room.find_answer("onset"));
  e.new_in_weeks = tells_of_weeks(room.find_answer("onset"));
  e.lifelong = contains_any(room.find_answer("onset"), {"Always", "was a baby", "birth"});
  e.pressure = tells_of_pressure(room.find_answer("headache"));
  tell_from_answers(room, e);
  e.bent_lines = contains(room.find_answer("variation"), "lines bend");
  e.has_trouble = room.find_answer("tired_eyes").rfind("Yes", 0) == 0;
}

}  // namespace redress::examiners
