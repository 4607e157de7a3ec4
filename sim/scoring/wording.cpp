// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/wording.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <optional>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"

namespace redress::scoring {

namespace {

using Words = std::vector<std::string>;

struct Synonym {
  std::string_view word;
  std::string_view means;  ///< words apart by a space
};

// The trade's (practice, B17; else common practice, no source).
constexpr Synonym kSynonyms[] = {
    {"paresis", "palsy"},
    {"paralysis", "palsy"},
    {"strabismus", "squint"},
    {"concomitant", "comitant"},
    {"decompensated", "decompensating"},
    {"amblyopic", "amblyopia"},
    {"rt", "right"},
    {"re", "right"},
    {"od", "right"},
    {"lt", "left"},
    {"le", "left"},
    {"os", "left"},
    {"iii", "third nerve"},
    {"3rd", "third nerve"},
    {"oculomotor", "third nerve"},
    {"iv", "fourth nerve"},
    {"4th", "fourth nerve"},
    {"trochlear", "fourth nerve"},
    {"vi", "sixth nerve"},
    {"6th", "sixth nerve"},
    {"abducens", "sixth nerve"},
    {"et", "esotropia"},
    {"ret", "right esotropia"},
    {"let", "left esotropia"},
    {"xt", "exotropia"},
    {"rxt", "right exotropia"},
    {"lxt", "left exotropia"},
    {"ixt", "intermittent exotropia"},
    {"sop", "esophoria"},
    {"xop", "exophoria"},
    {"ino", "internuclear ophthalmoplegia"},
    {"dvd", "dissociated vertical deviation"},
};

// Certainty, degree and what only joins: they name nothing.
constexpr std::string_view kEmpty[] = {
    "a",         "an",          "the",      "of",      "in",       "at",       "and",
    "on",        "for",         "with",     "to",      "from",     "by",       "due",
    "as",        "s",           "eye",      "eyes",    "nerve",    "cn",       "type",
    "suspected", "suspect",     "probable", "likely",  "probably", "possible", "presumed",
    "query",     "symptomatic", "small",    "large",   "mild",     "moderate", "marked",
    "slight",    "pd",          "prism",    "dioptre", "dioptres", "Δ",
};

// Words that would mean something else the other way round.
constexpr std::string_view kOrdering[] = {"over", "under", "than", "above", "below"};

constexpr std::string_view kDenying[] = {"no",       "not",     "never",    "without", "excluded",
                                         "excludes", "exclude", "pseudo",   "ruled",   "absent",
                                         "nor",      "neither", "unlikely", "denied",  "rather",
                                         "against",  "versus",  "vs",       "false",   "apparent"};

template <class List>
bool is_one_of(std::string_view word, const List& list) {
  return std::find(std::begin(list), std::end(list), word) != std::end(list);
}

bool is_side(std::string_view word) { return word == "right" || word == "left"; }

// "20", "20Δ"
bool is_size(std::string_view word) {
  const std::size_t digits = word.find_first_not_of("0123456789");
  if (digits == 0) return false;
  return digits == std::string_view::npos || word.substr(digits) == "Δ";
}

Words split(std::string_view folded) {
  Words words;
  std::size_t from = folded.find_first_not_of(' ');
  while (from != std::string_view::npos) {
    const std::size_t to = folded.find(' ', from);
    words.emplace_back(folded.substr(from, to - from));
    from = folded.find_first_not_of(' ', to == std::string_view::npos ? folded.size() : to);
  }
  return words;
}

// "pseudostrabismus" and "pseudo-strabismus" alike.
void add_parts(std::string_view word, Words& words) {
  constexpr std::string_view kPseudo = "pseudo";
  if (word.size() > kPseudo.size() && word.starts_with(kPseudo)) {
    words.emplace_back(kPseudo);
    word.remove_prefix(kPseudo.size());
  }
  const auto* known = std::find_if(std::begin(kSynonyms), std::end(kSynonyms),
                                   [word](const Synonym& s) { return s.word == word; });
  for (std::string& part : split(known == std::end(kSynonyms) ? word : known->means)) {
    words.push_back(std::move(part));
  }
}

/// Each word once; sorted unless their order says something.
Words to_compare(Words words) {
  const bool ordered = std::any_of(words.begin(), words.end(),
                                   [](const auto& word) { return is_one_of(word, kOrdering); });
  if (ordered) return words;
  std::sort(words.begin(), words.end());  // equal words are alike
  words.erase(std::unique(words.begin(), words.end()), words.end());
  return words;
}

bool is_amblyopic(const Examined& x) {
  constexpr double kUnequalLogmar = 0.2;  // two lines, the usual criterion (from memory)
  const auto& acuity = x.setup.patient.sensory.acuity_logmar;
  return elementary::magnitude(acuity.right - acuity.left) >= kUnequalLogmar - 1e-9;
}

// So of this patient where most is to be found.
bool is_so(const Examined& x, std::string_view word) {
  const Place& place = x.places[x.main_place];
  const int rank = place.rank();
  const truth::DeviatingEye eye = place.there.right.deviating_eye;
  if (word == "right") return eye == truth::DeviatingEye::right;
  if (word == "left") return eye == truth::DeviatingEye::left;
  if (word == "alternating") return eye == truth::DeviatingEye::alternating;
  if (word == "constant") return rank == 3;
  if (word == "intermittent") return rank == 2;
  if (word == "manifest") return rank >= 2;
  if (word == "latent") return rank == 1;
  if (word == "comitant") return x.truth.comitant;
  if (word == "incomitant") return !x.truth.comitant;
  if (word == "amblyopia") return is_amblyopic(x);
  return false;
}

// All of the accepted words, in the same order where that matters, and beside them only what is so.
bool says(const Examined& x, const Words& written, const Words& accepted) {
  auto next = accepted.begin();
  for (const std::string& word : written) {
    if (next != accepted.end() && *next == word) {
      ++next;
    } else if (!is_so(x, word)) {
      return false;
    }
  }
  return next == accepted.end();
}

bool is_accepted(const Examined& x, const Words& written, const std::vector<Words>& accepted) {
  const Words words = to_compare(written);
  return std::any_of(accepted.begin(), accepted.end(),
                     [&](const Words& each) { return says(x, words, each); });
}

Words without_side(Words words) {
  std::erase_if(words, [](const std::string& word) { return is_side(word); });
  return words;
}

/// What stands between commas, semicolons, "and" and "with".
std::vector<std::string> split_parts(std::string_view text) {
  constexpr std::string_view kBetween[] = {",", ";", "+", "&", " and ", " with "};
  std::vector<std::string> parts(1);
  while (!text.empty()) {
    const auto* mark = std::find_if(std::begin(kBetween), std::end(kBetween),
                                    [text](std::string_view b) { return text.starts_with(b); });
    if (mark != std::end(kBetween)) {
      parts.emplace_back();
      text.remove_prefix(mark->size());
    } else {
      parts.back() += text.front();
      text.remove_prefix(1);
    }
  }
  return parts;
}

}  // namespace

bool denies(std::string_view word) { return is_one_of(word, kDenying); }

std::vector<std::string> naming_words(std::string_view text) {
  const Words folded = split(findings::fold_words(text));
  // A letter for the side only where it is the only one: "R/L" is another thing.
  const bool right = is_one_of("r", folded);
  const bool left = is_one_of("l", folded);
  Words words;
  for (const std::string& word : folded) {
    if (word == "r" && !left) {
      words.emplace_back("right");
    } else if (word == "l" && !right) {
      words.emplace_back("left");
    } else if (!is_one_of(word, kEmpty) && !is_size(word)) {
      add_parts(word, words);
    }
  }
  // The nerves are named by their number.
  std::erase_if(words, [](const std::string& word) { return is_one_of(word, kEmpty); });
  return words;
}

std::vector<std::string> accepted_wordings(const Examined& x) {
  std::vector<std::string> all;
  const CaseExpected& expected = x.the_case.expected;
  if (!expected.diagnosis.empty()) all.push_back(expected.diagnosis);
  for (const std::string& text : expected.accepted_diagnoses) all.push_back(text);
  if (all.empty()) all.push_back(x.truth.diagnosis);
  return all;
}

Match match_impression(const Examined& x, std::string_view written) {
  std::vector<Words> accepted;
  for (const std::string& text : accepted_wordings(x)) {
    accepted.push_back(to_compare(naming_words(text)));
  }
  const Words words = naming_words(written);
  if (words.empty()) return Match::none;
  if (is_accepted(x, words, accepted)) return Match::whole;
  // One thing beside another: each has to be accepted, or to be so.
  int right = 0;
  int wrong = 0;
  for (const std::string& part : split_parts(written)) {
    const Words said = naming_words(part);
    if (said.empty()) continue;
    if (is_accepted(x, said, accepted)) {
      ++right;
    } else if (!std::all_of(said.begin(), said.end(),
                            [&x](const std::string& word) { return is_so(x, word); })) {
      ++wrong;
    }
  }
  if (right > 0) return wrong == 0 ? Match::whole : Match::partly;
  const bool sided = std::any_of(words.begin(), words.end(), is_side);
  const Words bare = to_compare(words);
  const bool lacks_side =
      !sided && std::any_of(accepted.begin(), accepted.end(),
                            [&](const Words& each) { return without_side(each) == bare; });
  return lacks_side ? Match::side_missing : Match::none;
}

}  // namespace redress::scoring
