// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/teaching.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

namespace redress {

using nlohmann::json;

namespace {

// Lengths in bytes.
constexpr std::size_t kGoalBytes = 120;
constexpr std::size_t kKeyBytes = 60;
constexpr std::size_t kLineBytes = 400;
constexpr std::size_t kTextBytes = 1000;
constexpr std::size_t kMostTexts = 64;
constexpr std::size_t kMostKeyQuestions = 5;  // time forces choice
constexpr std::size_t kMostLookAlikes = 6;
constexpr std::size_t kMostSources = 16;

// Told from the patient's own numbers (setup.cpp): what is written might contradict them.
constexpr std::array<std::string_view, 3> kTold{"acuity", "refraction", "spectacles"};

std::vector<std::string> read_lines(ObjectReader& reader, std::string_view key, std::size_t most,
                                    std::size_t bytes) {
  std::vector<std::string> lines;
  const json* found = reader.array(key, 0, most);
  if (found == nullptr) return lines;
  for (std::size_t i = 0; i < found->size(); ++i) {
    const json& line = (*found)[i];
    if (line.is_string() && line.get_ref<const std::string&>().size() <= bytes) {
      lines.push_back(line.get<std::string>());
      continue;
    }
    reader.problems().push_back({pointer_to(reader.place_of(key), i),
                                 "is " + short_text(line) + "; allowed: a string of at most " +
                                     std::to_string(bytes) + " bytes"});
  }
  return lines;
}

void read_look_alikes(ObjectReader& reader, std::vector<CaseLookAlike>& look_alikes) {
  const json* found = reader.array("look_alikes", 0, kMostLookAlikes);
  if (found == nullptr) return;
  for (std::size_t i = 0; i < found->size(); ++i) {
    ObjectReader one((*found)[i], pointer_to(reader.place_of("look_alikes"), i), reader.problems());
    CaseLookAlike look_alike;
    look_alike.name = one.string("name", kLineBytes);
    look_alike.sign = one.string("sign", kLineBytes);
    one.finish();
    look_alikes.push_back(std::move(look_alike));
  }
}

bool is_key(std::string_view text) {
  return !text.empty() && text.size() <= kKeyBytes &&
         std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
         });
}

}  // namespace

void read_teaching(ObjectReader reader, CaseTeaching& teaching) {
  teaching.goal = reader.string("goal", kGoalBytes);
  teaching.level = static_cast<int>(reader.integer("level", 0, 5, 0));
  teaching.step = static_cast<int>(reader.integer("step", 0, 9, 0));
  teaching.key_questions = read_lines(reader, "key_questions", kMostKeyQuestions, kKeyBytes);
  teaching.different = reader.string("different", kTextBytes);
  read_look_alikes(reader, teaching.look_alikes);
  teaching.sources = read_lines(reader, "sources", kMostSources, kLineBytes);
  reader.finish();
}

void read_texts(ObjectReader& reader, std::string_view key,
                std::vector<std::pair<std::string, std::string>>& texts) {
  const json* found = reader.raw(key);
  if (found == nullptr) return;
  if (!found->is_object() || found->size() > kMostTexts) {
    reader.report(key, "is " + short_text(*found) + "; allowed: an object of at most " +
                           std::to_string(kMostTexts) + " texts, each under its key");
    return;
  }
  ObjectReader members(*found, reader.place_of(key), reader.problems());
  for (const auto& [name, ignored] : found->items()) {
    if (!is_key(name)) {
      members.raw(name);
      members.report(name, "is no such key: " + short_text(json(name)) +
                               "; allowed: at most 60 small letters, digits and _");
      continue;
    }
    if (auto text = members.required_string(name, kTextBytes)) {
      texts.emplace_back(name, *std::move(text));
    }
  }
  members.finish();
}

json to_json(const CaseTeaching& teaching) {
  json look_alikes = json::array();
  for (const CaseLookAlike& one : teaching.look_alikes) {
    look_alikes.push_back({{"name", one.name}, {"sign", one.sign}});
  }
  return {{"goal", teaching.goal},           {"level", teaching.level},
          {"step", teaching.step},           {"key_questions", teaching.key_questions},
          {"different", teaching.different}, {"look_alikes", std::move(look_alikes)},
          {"sources", teaching.sources}};
}

json texts_json(const std::vector<std::pair<std::string, std::string>>& texts) {
  json out = json::object();
  for (const auto& [key, text] : texts) out[key] = text;
  return out;
}

void check_teaching(const Case& the_case, Problems& problems) {
  const std::vector<std::string>& questions = the_case.teaching.key_questions;
  for (std::size_t i = 0; i < questions.size(); ++i) {
    const bool answered =
        std::any_of(the_case.answers.begin(), the_case.answers.end(),
                    [&](const auto& answer) { return answer.first == questions[i]; });
    if (answered) continue;
    problems.push_back({"/teaching/key_questions/" + std::to_string(i),
                        "is " + short_text(json(questions[i])) +
                            ", which the patient does not answer; allowed: a key of "
                            "/patient/answers"});
  }
  for (const auto& [finding, ignored] : the_case.on_file) {
    if (std::find(kTold.begin(), kTold.end(), finding) == kTold.end()) continue;
    problems.push_back(
        {"/on_file/" + finding, "is told from the refraction; allowed: other findings"});
  }
}

}  // namespace redress
