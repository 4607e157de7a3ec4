// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/pack.hpp"

#include <set>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/content_hash.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"

namespace redress {

namespace {

constexpr std::size_t kNameBytes = 64;
constexpr std::size_t kTitleBytes = 200;
constexpr std::size_t kNoteBytes = 4000;
constexpr std::string_view kEnding = ".json";
constexpr std::string_view kNameAllowed =
    "allowed: small letters, digits, \"_\" and \"-\", then \".json\", 64 characters at most";

/// The case in a packed text, problems with places behind `place`.
Result<Case> read_packed(std::string_view text, const std::string& place) {
  Result<Case> content = read_case_text(text);
  if (content.ok()) return content;
  Problems problems;
  for (const Problem& problem : content.problems()) {
    problems.push_back(
        {place + (problem.place.empty() ? "" : " ") + problem.place, problem.message});
  }
  return problems;
}

std::optional<PackedCase> read_entry(ObjectReader& entry, std::set<std::string>& names,
                                     Problems& problems) {
  PackedCase packed;
  const auto name = entry.required_string("name", kNameBytes);
  const auto bytes = entry.required_integer("bytes", 0, static_cast<std::int64_t>(kLargestPack));
  const auto checksum = entry.required_string("checksum", 64);
  packed.text = entry.required_string("text", kLargestPack).value_or("");
  entry.finish();
  if (!name || !bytes || !checksum) return std::nullopt;  // told by the reader
  packed.name = *name;
  if (!is_pack_name(packed.name)) {
    problems.push_back(
        {entry.place_of("name"), fmt::format("is {}; {}", short_text(packed.name), kNameAllowed)});
    return std::nullopt;
  }
  if (!names.insert(packed.name).second) {
    problems.push_back(
        {entry.place_of("name"),
         fmt::format("is {} a second time; allowed: each once", short_text(packed.name))});
    return std::nullopt;
  }
  if (static_cast<std::size_t>(*bytes) != packed.text.size()) {
    problems.push_back({entry.place_of("bytes"),
                        fmt::format("is {}, but the text has {}", *bytes, packed.text.size())});
    return std::nullopt;
  }
  if (const std::string found = calc_checksum(packed.text); found != *checksum) {
    problems.push_back(
        {entry.place_of("checksum"), fmt::format("is not that of the text, which has {}", found)});
    return std::nullopt;
  }
  Result<Case> content = read_packed(packed.text, entry.place_of("text"));
  if (!content.ok()) {
    problems.insert(problems.end(), content.problems().begin(), content.problems().end());
    return std::nullopt;
  }
  packed.content = std::move(content).value();
  return packed;
}

}  // namespace

std::string calc_checksum(std::string_view text) { return calc_hash(text); }

bool is_pack_name(std::string_view name) {
  if (name.size() <= kEnding.size() || name.size() > kNameBytes) return false;
  if (!name.ends_with(kEnding)) return false;
  name.remove_suffix(kEnding.size());
  for (const char c : name) {
    const bool allowed = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
    if (!allowed) return false;
  }
  return name.front() != '-';
}

Result<Pack> read_pack(std::string_view text) {
  const JsonLimits limits{.size_bytes = kLargestPack, .depth = 8};
  Result<nlohmann::json> json = parse_json(text, limits);
  if (!json.ok()) return json.problems();
  Problems problems;
  ObjectReader reader(json.value(), "", problems);
  if (reader.required_string("format", 40).value_or("") != kPackFormat && problems.empty()) {
    return Problems{{"/format", fmt::format("is not \"{}\"; allowed: a pack", kPackFormat)}};
  }
  const auto version = reader.required_integer("version", 1, 1'000'000);
  if (version && *version > kPackVersion) {
    return Problems{{"/version", fmt::format("was written by a newer version ({}; this one reads "
                                             "{}); it was left untouched",
                                             *version, kPackVersion)}};
  }
  Pack pack;
  pack.title = reader.required_string("title", kTitleBytes).value_or("");
  pack.note = reader.string("note", kNoteBytes);
  const nlohmann::json* cases = reader.required_array("cases", 1, kMostPackedCases);
  reader.finish();
  if (cases == nullptr) {
    if (problems.empty()) problems.push_back({"/cases", "is missing; allowed: a list of cases"});
    return problems;
  }
  std::set<std::string> names;
  for (std::size_t i = 0; i < cases->size(); ++i) {
    ObjectReader entry((*cases)[i], pointer_to("/cases", i), problems);
    if (auto packed = read_entry(entry, names, problems)) pack.cases.push_back(std::move(*packed));
  }
  if (!problems.empty()) return problems;
  return pack;
}

Result<std::string> write_pack(const Pack& pack) {
  Problems problems;
  std::set<std::string> names;
  nlohmann::ordered_json json;
  json["format"] = kPackFormat;
  json["version"] = kPackVersion;
  json["title"] = pack.title;
  if (!pack.note.empty()) json["note"] = pack.note;
  json["cases"] = nlohmann::ordered_json::array();
  for (const PackedCase& packed : pack.cases) {
    if (!is_pack_name(packed.name)) {
      problems.push_back(
          {packed.name, fmt::format("cannot be packed by that name; {}", kNameAllowed)});
      continue;
    }
    if (!names.insert(packed.name).second) {
      problems.push_back({packed.name, "comes twice; allowed: each name once"});
      continue;
    }
    if (const Result<Case> content = read_packed(packed.text, packed.name); !content.ok()) {
      problems.insert(problems.end(), content.problems().begin(), content.problems().end());
      continue;
    }
    json["cases"].push_back({{"name", packed.name},
                             {"bytes", packed.text.size()},
                             {"checksum", calc_checksum(packed.text)},
                             {"text", packed.text}});
  }
  if (pack.cases.empty()) problems.push_back({"", "has no case; allowed: one and more"});
  if (!problems.empty()) return problems;
  return json.dump(1) + "\n";
}

}  // namespace redress
