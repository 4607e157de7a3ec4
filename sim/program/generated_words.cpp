// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/generated_words.hpp"

#include <array>
#include <span>
#include <string>

namespace redress::program {

using nlohmann::json;

namespace {

struct Told {
  std::string_view title;
  std::string_view story;
  std::string_view onset;
  std::string_view double_vision;
  std::string_view tired_eyes;
  double least_age = 1.0;  ///< of who would say so
  double greatest_age = 99.0;
};

constexpr std::array<std::string_view, 12> kWomen{"Beatrix", "Dagny", "Farida", "Hester",
                                                  "Ilse",    "Katya", "Mirren", "Odile",
                                                  "Quilla",  "Signe", "Una",    "Wilhelmina"};
constexpr std::array<std::string_view, 12> kMen{"Aurelio", "Callum",  "Eskil", "Gwilym",
                                                "Jerome",  "Leopold", "Nadim", "Percival",
                                                "Rufus",   "Tarquin", "Viggo", "Yusuf"};
constexpr std::array<std::string_view, 24> kFamilies{
    "Banks",     "Odhiambo", "Szabo",     "Whitlock", "Marchetti", "Coombes",
    "Takahashi", "Oyelowo",  "Varughese", "Lindahl",  "Abernathy", "Nair",
    "Salazar",   "Thorne",   "Kamara",    "Yun",      "Hendry",    "Adeyemi",
    "Pereira",   "Bose",     "Castellan", "Mensah",   "Rao",       "Larkin"};

constexpr std::array<Told, 5> kNoTrouble{
    {{"Form to be signed for a licence", "I need the form. I see well.",
      "There is nothing to date.", "No.", "No.", 18},
     {"First check for years", "Nobody has looked for years, so I came.", "Nothing has begun.",
      "No, never.", "No.", 18},
     {"New job at a screen", "They send everybody for a test before we start.",
      "Nothing. I start on Monday.", "No.", "No, not so far.", 18},
     {"Sunglasses wanted", "I only want sunglasses for driving.", "Nothing has changed.", "No.",
      "Only after a long drive.", 18},
     {"Glasses of the family, one more pair", "All of us have glasses, so I thought I should ask.",
      "There was never anything.", "No.", "No.", 18}}};
constexpr std::array<Told, 5> kNearTrouble{
    {{"Print swims after a page", "After a page or two the print begins to swim.",
      "For about a year.", "The lines part, late in the day.", "Yes, after reading.", 18},
     {"Closes an eye over the accounts", "I shut one eye to add up columns.",
      "Since I changed my job, some months now.", "Columns double when I am tired.",
      "Yes, by noon.", 20},
     {"Forehead aches over a book", "Half an hour of reading and my forehead aches.",
      "Since last winter.", "For a moment, at the end of a chapter.", "Yes, they burn.", 18},
     {"Loses the place on the page", "I lose my place and read lines twice.",
      "As long as I have studied.", "At night the words run together.", "Yes, every evening.", 18,
      30},
     {"Two lines of the score become three", "I sing in a choir, and the staves run together.",
      "Since the autumn concert.", "In the last half hour of a rehearsal.",
      "Yes, when the light is poor.", 18}}};
constexpr std::array<Told, 5> kTurn{
    {{"An eye that wanders on photographs", "On photographs one eye is not where it should be.",
      "Since early childhood.", "No.", "No.", 12},
     {"Teased at school about one eye", "They say that I look at two people at once.",
      "They saw it when I was about two.", "No.", "No.", 7, 17},
     {"An eye that was never treated", "We moved a lot, and nobody ever did anything about it.",
      "Since I was small.", "No.", "No.", 18},
     {"The school photographer asked twice", "He said look here, and I did look.",
      "Before the second birthday, my parents say.", "No.", "No.", 7, 14},
     {"Wants to know whether it can still be set right", "I have got used to it. My children ask.",
      "As long as I can remember.", "No, not even as a child.", "No.", 25}}};
constexpr std::array<Told, 5> kComesAndGoes{
    {{"Shuts an eye when it is bright", "I shut one eye outside.", "For two years, my mother says.",
      "No.", "No.", 7, 17},
     {"Stares into the distance", "They wave at me and I do not see it.",
      "My father noticed it last summer.", "No.", "No.", 7, 17},
     {"One eye goes its own way when tired", "In the evening one eye goes off, they say.",
      "For some years.", "No.", "No.", 14},
     {"An eye that goes out on the bus home", "My friend says that I stop looking at her.",
      "Since I was at primary school.", "No.", "No.", 14},
     {"The swimming teacher saw it", "Across the pool one eye goes off.",
      "They saw it in the spring.", "No.", "No.", 7, 13}}};

std::span<const Told> stories_of(const GeneratedKind& kind) {
  switch (kind.holds) {
    case Holds::as_drawn:
    case Holds::well: return kNoTrouble;
    case Holds::badly: return kNearTrouble;
    case Holds::sometimes: return kComesAndGoes;
    case Holds::never: break;
  }
  return kTurn;
}

std::size_t choose(double uniform, std::size_t count) {
  const auto i = static_cast<std::size_t>(uniform * static_cast<double>(count));
  return i < count ? i : count - 1;
}

// Of what somebody of that age would say.
const Told& choose_story(const GeneratedKind& kind, double age_years, double uniform) {
  std::vector<const Told*> fitting;
  const std::span<const Told> all = stories_of(kind);
  for (const Told& told : all) {
    if (age_years >= told.least_age && age_years <= told.greatest_age) fitting.push_back(&told);
  }
  return fitting.empty() ? all.front() : *fitting[choose(uniform, fitting.size())];
}

std::string with_side(std::string_view words, bool sided, bool right) {
  return (sided ? (right ? "right " : "left ") : "") + std::string(words);
}

}  // namespace

// Spans of the distance deviation and sizes: what textbooks and the clinical notes give for each
// (from memory where they give none).
const std::vector<GeneratedKind>& generated_kinds() {
  static const std::vector<GeneratedKind> kKinds{
      {"any", Pattern::any, Holds::as_drawn, 0, 0, 0, 0, 18, 40, {}, "", {}, ""},
      {"no deviation",
       Pattern::none,
       Holds::well,
       0,
       0,
       0,
       0,
       18,
       40,
       {"no abnormal deviation", "phoria"},
       "no abnormality found",
       {"no deviation", "physiological exophoria", "small exophoria", "exophoria", "normal"},
       "routine"},
      {"exophoria",
       Pattern::basic,
       Holds::well,
       -14,
       -3,
       4,
       14,
       18,
       40,
       {"exophoria"},
       "exophoria",
       {"compensated exophoria", "basic exophoria"},
       "routine"},
      {"esophoria",
       Pattern::basic,
       Holds::well,
       3,
       10,
       4,
       10,
       18,
       40,
       {"esophoria"},
       "esophoria",
       {"compensated esophoria", "basic esophoria"},
       "routine"},
      {"convergence excess",
       Pattern::more_eso_near,
       Holds::badly,
       -2,
       4,
       5,
       14,
       18,
       35,
       {"convergence excess"},
       "convergence excess",
       {"near esophoria", "esophoria at near", "esophoria greater at near than distance"},
       "soon"},
      {"convergence insufficiency",
       Pattern::more_exo_near,
       Holds::badly,
       -4,
       1,
       7,
       14,
       18,
       40,
       {"convergence insufficiency"},
       "convergence insufficiency",
       {"exophoria at near", "exophoria greater at near than distance"},
       "soon"},
      {"esotropia",
       Pattern::basic,
       Holds::never,
       14,
       45,
       14,
       45,
       7,
       30,
       {"esotropia"},
       "esotropia",
       {"constant esotropia"},
       "soon"},
      {"exotropia",
       Pattern::basic,
       Holds::never,
       -45,
       -14,
       14,
       45,
       12,
       50,
       {"exotropia"},
       "exotropia",
       {"constant exotropia"},
       "soon"},
      {"intermittent exotropia",
       Pattern::basic,
       Holds::sometimes,
       -35,
       -14,
       14,
       35,
       7,
       25,
       {"intermittent"},
       "intermittent exotropia",
       {"basic intermittent exotropia", "intermittent divergent squint"},
       "soon"}};
  return kKinds;
}

void write_words(const GeneratedKind& kind, const DrawnPerson& person, bool right, double story,
                 double name, json& out) {
  const bool child = person.age_years < 18.0;
  const Told& told = choose_story(kind, person.age_years, story);
  out["title"] = told.title;
  json& patient = out["patient"];
  // One draw for both names: which of the first, and how far on the way to the next one.
  const auto& first = person.female ? kWomen : kMen;
  const double scaled = name * static_cast<double>(first.size());
  const std::size_t which = choose(name, first.size());
  patient["name"] =
      std::string(first[which]) + " " +
      std::string(kFamilies[choose(scaled - static_cast<double>(which), kFamilies.size())]);
  patient["sex"] = person.female ? "female" : "male";
  patient["story"] = told.story;
  patient["answers"] = {{"onset", told.onset},
                        {"double_vision", told.double_vision},
                        {"tired_eyes", told.tired_eyes},
                        {"headache", "No."},
                        {"injury", "No."},
                        {"health", child ? "Healthy." : "Well. No medicines."}};
  if (kind.holds == Holds::sometimes) {
    patient["answers"]["variation"] = "Far away, and when tired.";
    patient["answers"]["bright_light"] = "One eye is shut in the sun.";
  }
  if (kind.holds == Holds::badly) patient["answers"]["variation"] = "Over near work only.";
  out["teaching"]["key_questions"] = {"onset", "double_vision"};
  if (kind.diagnosis.empty()) return;
  const bool sided = kind.holds == Holds::never;
  json accepted = {with_side(kind.diagnosis, sided, right)};
  if (sided) accepted.push_back("constant " + with_side(kind.diagnosis, sided, right));
  for (const std::string_view words : kind.accepted) {
    if (!sided) accepted.push_back(words);
  }
  out["expected"] = {{"diagnosis", accepted[0]}, {"accepted", accepted}, {"urgency", kind.urgency}};
}

}  // namespace redress::program
