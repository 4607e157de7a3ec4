// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/generated_words.hpp"

#include <array>
#include <span>
#include <string>
#include <vector>

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
  std::string_view work = "I work in an office.";  ///< of grown-ups
  std::string_view headache = "No.";
  std::string_view treatment = "None.";
  std::string_view family = "Nothing known.";
  std::string_view variation = {};  ///< empty: that of all such stories
  std::string_view injury = "No.";
  std::string_view health = {};  ///< empty: well
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

constexpr std::array<Told, 7> kNoTrouble{
    {{"Form to be signed for a licence", "I need the form. I see well.",
      "There is nothing to date.", "No.", "No.", 18, 99, "I want to drive a van."},
     {"First check for years", "Nobody has looked for years, so I came.", "Nothing has begun.",
      "No, never.", "No.", 25, 99, "I run a bakery."},
     {"New job at a screen", "They send everybody for a test before we start.",
      "Nothing. I start on Monday.", "No.", "No, not so far.", 18, 99,
      "At a screen, from Monday on."},
     {"Sunglasses wanted", "I only want sunglasses for driving.", "Nothing has changed.", "No.",
      "Only after a long drive.", 18, 99, "I drive from shop to shop."},
     {"Glasses of the family, one more pair", "All of us have glasses, so I thought I should ask.",
      "There was never anything.", "No.", "No.", 18, 30, "I study.", "No.", "None.",
      "My parents and both brothers wear glasses."},
     {"The gym asked for a check", "Before they let me climb they want my eyes looked at.",
      "Nothing is wrong.", "No.", "No.", 18, 99, "I repair lifts."},
     {"Sister has a squint", "My sister's girl has a squint. Have I got one?",
      "Nothing that I noticed.", "No, never.", "No.", 18, 99, "I am a nurse.", "No.", "None.",
      "My sister's girl squints."}}};
constexpr std::array<Told, 7> kNearTrouble{
    {{"Print swims after a page", "After a page or two the print begins to swim.",
      "For about a year.", "The lines part, late in the day.", "Yes, after reading.", 18, 99,
      "I read proofs for a newspaper."},
     {"Closes an eye over the accounts", "I shut one eye to add up columns.",
      "Since I changed my job, some months now.", "Columns double when I am tired.",
      "Yes, by noon.", 20, 99, "I keep the books of a farm."},
     {"Forehead aches over a book", "Half an hour of reading and my forehead aches.",
      "Since last winter.", "For a moment, at the end of a chapter.", "Yes, they burn.", 18, 99,
      "I work in an office and read in the evening.", "Over the brows, after reading, never else."},
     {"Loses the place on the page", "I lose my place and read lines twice.",
      "As long as I have studied.", "At night the words run together.", "Yes, every evening.", 18,
      30, "I study, six hours of books a day.", "After long days in the library."},
     {"Two lines of the score become three", "I sing in a choir, and the staves run together.",
      "Since the autumn concert.", "In the last half hour of a rehearsal.",
      "Yes, when the light is poor.", 18, 99, "I teach singing."},
     {"Threads the needle with one eye shut", "I sew, and I shut one eye for every stitch.",
      "Since the spring.", "The needle is there twice by the evening.", "Yes, they pull.", 18, 99,
      "I alter wedding dresses.", "Behind the eyes after a long day."},
     {"Puts the telephone away after ten minutes", "Messages blur together, so I stopped reading.",
      "Half a year, more or less.", "Sometimes two of the same line.", "Yes, on the train.", 18, 35,
      "I sell telephones."}}};
constexpr std::array<Told, 6> kTurn{
    {{"An eye that wanders on photographs", "On photographs one eye is not where it should be.",
      "Since early childhood.", "No.", "No.", 12, 99, "I cook in a school.", "No.",
      "A patch that I took off."},
     {"Teased at school about one eye", "They say that I look at two people at once.",
      "They saw it when I was about two.", "No.", "No.", 7, 17, "", "No.",
      "A patch, but I hated it."},
     {"An eye that was never treated", "We moved a lot, and nobody ever did anything about it.",
      "Since I was small.", "No.", "No.", 18, 99, "I lay floors."},
     {"The school photographer asked twice", "He said look here, and I did look.",
      "Before the second birthday, my parents say.", "No.", "No.", 7, 14},
     {"Wants to know whether it can still be set right", "I have got used to it. My children ask.",
      "As long as I can remember.", "No, not even as a child.", "No.", 25, 99,
      "I look after the children.", "No.", "Glasses as a child, I do not know which."},
     {"Customers look over their shoulder",
      "When I speak to people they turn round to see who is "
      "meant.",
      "Since I was three or so.", "No.", "No.", 18, 99, "I sell shoes.", "No.",
      "Drops and a patch, long ago."}}};
constexpr std::array<Told, 6> kComesAndGoes{
    {{"Shuts an eye when it is bright", "I shut one eye outside.", "For two years, my mother says.",
      "No.", "No.", 7, 17},
     {"Stares into the distance", "They wave at me and I do not see it.",
      "My father noticed it last summer.", "No.", "No.", 7, 17},
     {"One eye goes its own way when tired", "In the evening one eye goes off, they say.",
      "For some years.", "No.", "Yes, and then it goes.", 14, 99, "I wait at tables."},
     {"An eye that goes out on the bus home", "My friend says that I stop looking at her.",
      "Since I was at primary school.", "No.", "Not the eyes. I am tired then.", 14, 99,
      "I am training to be a plumber."},
     {"The swimming teacher saw it", "Across the pool one eye goes off.",
      "They saw it in the spring.", "No.", "No.", 7, 13},
     {"Grandmother says that it drifts", "Granny says that it drifts when I dream.",
      "Since we moved, Granny says.", "No.", "No.", 7, 12, "", "No.", "None.",
      "Granny had a turn as well."}}};

constexpr std::array<Told, 3> kHeight{
    {{"Slips a line on every page", "I read the same line twice, then miss the next.",
      "Since I was at school.", "No, the lines only sit too close.", "Yes, with every book.", 18,
      99, "I read the news on the radio.", "Now and then over one eye.", "None.", "Nothing known.",
      "With every book, most in the evening."},
     {"Tips the book to read", "If I tip the book the lines keep apart.", "For some years.",
      "At night one line floats over the other.", "Yes, when the day was long.", 18, 99,
      "I set type for a small press.", "No.", "Glasses that I did not keep.", "Nothing known.",
      "In the evening, at every distance."},
     {"Steps and kerbs need care", "On the last step I am not sure which is the real one.",
      "Two years or so.", "When I am tired, one above the other.", "Yes, by the evening.", 18, 99,
      "I deliver parcels.", "No.", "None.", "Nothing known.", "When I am tired."}}};
constexpr std::array<Told, 3> kSixth{
    {{"Two of the car in front", "On the way home there were two cars in front, side by side.",
      "Ten days ago, on one morning.", "Yes, side by side, far away. Gone with one eye shut.",
      "No.", 20, 99, "I drive a taxi.", "No.", "None.", "Nothing known.",
      "Worst far away and to one side, less over a book.", "No.", "A cold, three weeks ago."},
     {"The goalposts are four", "From the other end of the field there are four posts.",
      "A week ago, at training.", "Yes, side by side. Gone when I shut an eye.", "No.", 20, 35,
      "I coach a youth team.", "No.", "None.", "Nothing known.",
      "It is wider to one side and almost gone to the other.", "No.", "Well. No medicines."},
     {"Shuts an eye at the cinema", "There were two screens, so I shut an eye.",
      "Two weeks ago, and no better.", "Yes, side by side at a distance, one when I read.", "No.",
      25, 99, "I paint houses.", "No.", "None.", "My father had diabetes.",
      "Far away, and to one side more than to the other.", "No.", "Sugar, for eight years."}}};
constexpr std::array<Told, 3> kFourth{
    {{"The stairs have a second edge", "Going down, each stair has two edges, one slanting.",
      "Two weeks ago, after the fall.", "Yes, one above the other, and one is tilted.", "No.", 18,
      99, "I climb scaffolds.", "No.", "None.", "Nothing known.",
      "Worst on looking down, better with the head on one side.",
      "I fell from a ladder two weeks ago and hit my head.", "Well. No medicines."},
     {"The plate floats over the table", "At table the plate is there twice, one above the other.",
      "Three weeks ago, since the accident.", "Yes, one above the other, and askew.", "No.", 18, 99,
      "I repair cars.", "The first days. Gone now.", "None.", "Nothing known.",
      "Looking down and to one side.", "My car was hit from behind three weeks ago.",
      "Well. No medicines."},
     {"Reads with a hand over one eye", "Since the match I read with a hand over one eye.",
      "A week ago, after the match.", "Yes, one over the other, the lower one slants.", "No.", 18,
      35, "I study and play hockey.", "No.", "None.", "Nothing known.",
      "On looking down, least with the chin down.", "A stick hit my head a week ago.",
      "Well. No medicines."}}};

std::span<const Told> stories_of(const GeneratedKind& kind) {
  switch (kind.beside) {
    case Beside::height: return kHeight;
    case Beside::lateral_rectus: return kSixth;
    case Beside::superior_oblique: return kFourth;
    case Beside::nothing: break;
  }
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
       "soon"},
      {"hyperphoria",
       Pattern::small,
       Holds::as_drawn,
       -2,
       1,
       2,
       6,
       18,
       40,
       {"hyperphoria"},
       "hyperphoria",
       {"vertical heterophoria"},
       "soon",
       Beside::height},
      {"sixth nerve palsy",
       Pattern::small,
       Holds::as_drawn,
       -2,
       2,
       0,
       0,
       20,
       42,
       {"lateral rectus"},
       "sixth nerve palsy",
       {"sixth nerve paresis", "lateral rectus palsy", "abducens palsy"},
       "urgent",
       Beside::lateral_rectus,
       0.3,
       0.6},
      {"fourth nerve palsy",
       Pattern::small,
       Holds::as_drawn,
       -2,
       2,
       0,
       0,
       18,
       42,
       {"superior oblique"},
       "fourth nerve palsy",
       {"superior oblique palsy", "trochlear palsy"},
       "urgent",
       Beside::superior_oblique,
       0.0,
       0.3}};
  return kKinds;
}

void write_words(const GeneratedKind& kind, const DrawnPerson& person, bool right, double story,
                 double name, json& out) {
  const bool child = person.age_years < 18.0;
  const Told& told = choose_story(kind, person.age_years, story);
  const std::string_view well = child ? "Healthy." : "Well. No medicines.";
  const std::string_view health = told.health.empty() ? well : told.health;
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
                        {"headache", told.headache},
                        {"injury", told.injury},
                        {"health", health},
                        {"previous_treatment", told.treatment},
                        {"family", told.family}};
  patient["answers"][child ? "school" : "work"] =
      child ? std::string_view("It goes well enough.") : told.work;
  if (kind.holds == Holds::sometimes) {
    patient["answers"]["variation"] = "It comes and goes: far away, and when tired.";
    patient["answers"]["bright_light"] = "One eye is shut in the sun.";
  }
  if (kind.holds == Holds::badly) patient["answers"]["variation"] = "Over near work only.";
  if (!told.variation.empty()) patient["answers"]["variation"] = told.variation;
  out["teaching"]["key_questions"] = {"onset", "double_vision"};
  if (kind.diagnosis.empty()) return;
  const bool squints = kind.holds == Holds::never;
  const bool sided = squints || kind.beside != Beside::nothing;
  json accepted = {with_side(kind.diagnosis, sided, right)};
  if (squints) accepted.push_back("constant " + with_side(kind.diagnosis, sided, right));
  for (const std::string_view words : kind.accepted) {
    if (!squints) accepted.push_back(with_side(words, sided, right));
  }
  out["expected"] = {{"diagnosis", accepted[0]}, {"accepted", accepted}, {"urgency", kind.urgency}};
}

}  // namespace redress::program
