// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/answers.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress {

namespace {

constexpr double kSoonestSpeechMs = 500.0;
constexpr double kPaceMs = 650.0;    // between persons
constexpr double kMomentMs = 350.0;  // between answers of one person
constexpr Tick kCalmSpeechMs = 900;  // noise off
constexpr double kSpeaksFromYears = 3.0;
constexpr std::int32_t kNoticesMs = 2000;
constexpr Tick kRequestMs = 15000;  // 10 to 20 s for a finding on request

struct Said {
  std::string answer;
  std::string text;
};

// A child of less than so many years says the wrong thing in a quarter of its answers (20 to 30 %:
// judgement).
constexpr double kSmallChildYears = 7.0;
constexpr double kWrongShare = 0.25;

constexpr double kBesideDeg = 0.5;  // less is not noticed as side by side
constexpr double kAboveDeg = 0.4;
constexpr double kTiltedDeg = 3.0;  // a tilt of one image (judgement)

// How far apart the two seem at the target: the disparity, as a distance there.
std::string distance_between(const patient::Percept& p, double distance_m) {
  const double apart = elementary::hypotenuse(p.separation_deg, p.vertical_deg);
  const double cm = 100.0 * distance_m * elementary::tangent(apart * elementary::kRadiansPerDegree);
  if (cm < 1.5) return "about a centimetre apart";
  const double step = cm < 20.0 ? 1.0 : 5.0;
  const auto whole = static_cast<int>(cm / step + 0.5) * static_cast<int>(step);
  return "about " + std::to_string(whole) + " cm apart";
}

// Eso is uncrossed, exo crossed; the higher eye sees the lower image.
Said say_arrangement(const patient::Percept& p, double distance_m) {
  if (!p.is_double) {
    if (p.monocular.right || p.monocular.left) {
      return {"ghost", "There is a second one, like a shadow, close to the first."};
    }
    return {"single", "There is only one."};
  }
  const bool beside = elementary::magnitude(p.separation_deg) > kBesideDeg;
  const bool above = elementary::magnitude(p.vertical_deg) > kAboveDeg;
  const bool tilted = elementary::magnitude(p.tilt_deg) > kTiltedDeg;
  Said said;
  if (beside && above) {
    said = {"side_by_side_and_above", "Side by side, and one is higher"};
  } else if (above) {
    said = {"one_above_the_other", "One above the other"};
  } else {
    said = {"side_by_side", "Two, side by side"};
  }
  said.text += ", " + distance_between(p, distance_m) + ".";
  if (beside) {
    const bool uncrossed = p.separation_deg > 0.0;
    said.answer += uncrossed ? ", uncrossed" : ", crossed";
    said.text += uncrossed ? " Shut my right eye and the right one goes."
                           : " Shut my right eye and the left one goes.";
  }
  if (above) {
    const bool right_lower = p.vertical_deg > 0.0;
    said.answer += right_lower ? ", right_lower" : ", left_lower";
    said.text +=
        right_lower ? " The lower one is the right eye's." : " The lower one is the left eye's.";
  }
  if (tilted) {
    said.answer += ", tilted";
    said.text += " One of them is tilted.";
  }
  return said;
}

Said say_which_eye(const patient::Percept& p) {
  const bool monocular = p.monocular.right || p.monocular.left;
  if (!p.is_double && !monocular) return {"single", "There is only one."};
  if (!monocular) return {"either", "It goes when I shut either eye."};
  if (p.monocular.right && p.monocular.left) return {"neither", "There are two with either eye."};
  return p.monocular.right ? Said{"right", "It goes when I shut my right eye."}
                           : Said{"left", "It goes when I shut my left eye."};
}

Said say_where(Worst worst) {
  switch (worst) {
    case Worst::nowhere: return {"single", "It is single everywhere."};
    case Worst::same: return {"same", "About the same everywhere."};
    case Worst::left: return {"left", "Worst when I look to the left."};
    case Worst::right: return {"right", "Worst when I look to the right."};
    case Worst::up: return {"up", "Worst when I look up."};
    case Worst::down: return {"down", "Worst when I look down."};
    case Worst::near: return {"near", "Worst when I look at something near."};
    case Worst::far: return {"far", "Worst when I look far away."};
  }
  return {};
}

Said say(std::string_view what, const patient::Percept& p, const patient::Retinas& retinas,
         Worst worst) {
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  if (what == "single_or_double") {
    if (!right && !left) return {"none", "I cannot see it."};
    const bool two = p.is_double || p.monocular.right || p.monocular.left;
    return two ? Said{"double", "Two of them."} : Said{"single", "It's single."};
  }
  if (what == "clear") {
    if (!right && !left) return {"none", "I cannot see it."};
    return p.clear ? Said{"clear", "Yes, it's clear."} : Said{"blurred", "It's blurred."};
  }
  if (what == "jump") return p.jumped ? Said{"jumped", "It jumped."} : Said{"still", "No."};
  if (what == "which_eye_removes_it") return say_which_eye(p);
  if (what == "arrangement") return say_arrangement(p, 1.0 / retinas.nearness_d);
  if (what == "where_worst") return say_where(worst);
  return {};
}

// What a small child says instead.
Said mistaken(std::string_view what, const Said& said) {
  if (what == "single_or_double") {
    return said.answer == "double" ? Said{"single", "One ... I think."}
                                   : Said{"double", "Um ... yes."};
  }
  if (what == "clear") {
    return said.answer == "clear" ? Said{"blurred", "Um ... no."} : Said{"clear", "Um ... yes."};
  }
  if (what == "jump") {
    return said.answer == "jumped" ? Said{"still", "Um ... no."} : Said{"jumped", "Um ... yes."};
  }
  return said;
}

const std::string* find(const Answers& answers, std::string_view what) {
  for (const auto& [key, text] : answers) {
    if (key == what) return &text;
  }
  return nullptr;
}

}  // namespace

Tick draw_speech_ms(const patient::Chance& chance, Tick now) {
  constexpr std::uint32_t kPacePart = 3;
  constexpr std::uint32_t kMomentPart = 4;
  if (chance.noise <= 0.0) return kCalmSpeechMs;
  const double pace = random_uniform(chance.seed, Stream::speech, 0, kPacePart);
  const double moment =
      random_uniform(chance.seed, Stream::speech, static_cast<std::uint64_t>(now), kMomentPart);
  return static_cast<Tick>(kSoonestSpeechMs + kPaceMs * pace + kMomentMs * moment);
}

bool DoubleVision::notices(const patient::Percept& p) {
  const bool two = p.is_double || p.monocular.right || p.monocular.left;
  noticed_ms_ = two ? noticed_ms_ + static_cast<std::int32_t>(kLookEveryMs) : 0;
  if (told_ || noticed_ms_ < kNoticesMs) return false;
  told_ = true;
  return true;
}

bool speaks_unasked(double age_years) { return age_years >= kSpeaksFromYears; }

Reply say_unasked(double age_years, Tick at) {
  const bool small = age_years < kSmallChildYears;
  return {at, std::string{kUnasked}, "double", small ? "There's two!" : "I am seeing two of them."};
}

Reply answer_question(std::string_view what, const Asked& asked, const Answers& history, Tick now) {
  const Tick at = now + draw_speech_ms(asked.chance, now);
  Said said = say(what, asked.percept, asked.retinas, asked.worst);
  if (!said.answer.empty()) {
    const auto event = static_cast<std::uint64_t>(now);
    if (asked.age_years < kSmallChildYears && asked.chance.noise > 0.0 &&
        random_uniform(asked.chance.seed, Stream::speech, event, 2) < kWrongShare) {
      said = mistaken(what, said);
    }
    return {at, std::string{what}, said.answer, said.text};
  }
  if (const std::string* text = find(history, what)) {
    return {at, std::string{what}, "history", *text};
  }
  return {at, std::string{what}, "not_known", "I couldn't say."};
}

Reply answer_request(std::string_view what, const Answers& on_file, Tick now) {
  if (const std::string* text = find(on_file, what)) {
    return {now + kRequestMs, std::string{what}, "on_file", *text};
  }
  return {now + kRequestMs, std::string{what}, "not_on_file", "Nothing on file."};
}

}  // namespace redress
