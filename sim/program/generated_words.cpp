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
};

constexpr std::array<std::string_view, 24> kNames{
    "Aurelio Banks",   "Beatrix Odhiambo", "Callum Szabo",   "Dagny Whitlock", "Eskil Marchetti",
    "Farida Coombes",  "Gwilym Takahashi", "Hester Oyelowo", "Ilse Varughese", "Jerome Lindahl",
    "Katya Abernathy", "Leopold Nair",     "Mirren Salazar", "Nadim Thorne",   "Odile Kamara",
    "Percival Yun",    "Quilla Hendry",    "Rufus Adeyemi",  "Signe Pereira",  "Tarquin Bose",
    "Una Castellan",   "Viggo Mensah",     "Wilhelmina Rao", "Yusuf Larkin"};

constexpr std::array<Told, 4> kNoTrouble{
    {{"Form to be signed for a licence", "I need the form. I see well.",
      "There is nothing to date.", "No.", "No."},
     {"First check for years", "Nobody has looked for years, so I came.", "Nothing has begun.",
      "No, never.", "No."},
     {"New job at a screen", "They send everybody for a test before we start.",
      "Nothing. I start on Monday.", "No.", "No, not so far."},
     {"Sunglasses wanted", "I only want sunglasses for driving.", "Nothing has changed.", "No.",
      "Only after a long drive."}}};
constexpr std::array<Told, 4> kNearTrouble{
    {{"Print swims after a page", "After a page or two the print begins to swim.",
      "For about a year.", "The lines part, late in the day.", "Yes, after reading."},
     {"Closes an eye over the accounts", "I shut one eye to add up columns.",
      "Since I changed my job, some months now.", "Columns double when I am tired.",
      "Yes, by noon."},
     {"Forehead aches over a book", "Half an hour of reading and my forehead aches.",
      "Since last winter.", "For a moment, at the end of a chapter.", "Yes, they burn."},
     {"Loses the place on the page", "I lose my place and read lines twice.",
      "As long as I have studied.", "At night the words run together.", "Yes, every evening."}}};
constexpr std::array<Told, 3> kTurn{
    {{"An eye that wanders on photographs", "On photographs one eye is not where it should be.",
      "Since early childhood.", "No.", "No."},
     {"Teased at school about one eye", "They say that I look at two people at once.",
      "They saw it when I was about two.", "No.", "No."},
     {"An eye that was never treated", "We moved a lot, and nobody ever did anything about it.",
      "Since I was small.", "No.", "No."}}};
constexpr std::array<Told, 3> kComesAndGoes{
    {{"Shuts an eye when it is bright", "I shut one eye outside.", "For two years, my mother says.",
      "No.", "No."},
     {"Stares into the distance", "They wave at me and I do not see it.",
      "My father noticed it last summer.", "No.", "No."},
     {"One eye goes its own way when tired", "In the evening one eye goes off, they say.",
      "For some years.", "No.", "No."}}};

std::span<const Told> stories_of(const GeneratedKind& kind) {
  switch (kind.holds) {
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

std::string with_side(std::string_view words, bool sided, bool right) {
  return (sided ? (right ? "right " : "left ") : "") + std::string(words);
}

}  // namespace

// Spans of the distance deviation and sizes: what textbooks and the clinical notes give for each
// (from memory where they give none).
const std::vector<GeneratedKind>& generated_kinds() {
  static const std::vector<GeneratedKind> kKinds{
      {"any", Pattern::any, Holds::well, 0, 0, 0, 0, 18, 40, {}, "", {}, ""},
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

void write_words(const GeneratedKind& kind, double age_years, bool right, double story, double name,
                 json& out) {
  const std::span<const Told> stories = stories_of(kind);
  const Told& told = stories[choose(story, stories.size())];
  out["title"] = told.title;
  json& patient = out["patient"];
  patient["name"] = kNames[choose(name, kNames.size())];
  patient["story"] = told.story;
  patient["answers"] = {{"onset", told.onset},
                        {"double_vision", told.double_vision},
                        {"tired_eyes", told.tired_eyes},
                        {"headache", "No."},
                        {"injury", "No."},
                        {"health", age_years < 18.0 ? "Healthy." : "Well. No medicines."}};
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
