// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/draft.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/migrate.hpp"

namespace redress {

using nlohmann::ordered_json;

namespace {

constexpr std::size_t kMostChanges = 500;

ordered_json::json_pointer pointer_of(std::string_view pointer) {
  return ordered_json::json_pointer(std::string{pointer});
}

std::vector<std::string> tokens_of(std::string_view pointer) {
  std::vector<std::string> tokens;
  for (auto at = pointer_of(pointer); !at.empty(); at.pop_back()) tokens.push_back(at.back());
  std::reverse(tokens.begin(), tokens.end());
  return tokens;
}

bool is_index(std::string_view token) {
  return !token.empty() && token.size() <= 3 &&
         std::all_of(token.begin(), token.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Sorted, as the reader wants it.
nlohmann::json to_plain(const ordered_json& document) {
  return nlohmann::json::parse(document.dump());
}

Problems check_head(const ordered_json& document) {
  if (!document.is_object()) return {{"", "is no JSON object; allowed: a case"}};
  const auto format = document.find("format");
  if (format == document.end() || *format != std::string{kCaseFormat}) {
    return {{"/format", fmt::format("is not \"{}\"; allowed: a case", kCaseFormat)}};
  }
  const auto version = document.find("version");
  if (version == document.end() || !version->is_number_integer()) {
    return {{"/version", fmt::format("is missing; allowed: {}", kCaseVersion)}};
  }
  return {};
}

// --- layout ---

/// Objects, and words in a list, have a line each.
bool has_parts(const ordered_json& value) {
  const bool list = value.is_array();
  return std::any_of(value.begin(), value.end(), [list](const ordered_json& part) {
    return part.is_object() || (list && part.is_string());
  });
}

std::string write_key(const std::string& key) { return ordered_json(key).dump() + ": "; }

std::string write_on_one_line(const ordered_json& value) {
  if (!value.is_structured()) return value.dump();
  if (value.empty()) return value.is_object() ? "{}" : "[]";
  std::string text = value.is_object() ? "{ " : "[";
  bool first = true;
  for (const auto& [key, part] : value.items()) {
    if (!first) text += ", ";
    first = false;
    if (value.is_object()) text += write_key(key);
    text += write_on_one_line(part);
  }
  return text + (value.is_object() ? " }" : "]");
}

/// Characters, not bytes: Δ counts as one.
std::size_t count_characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

std::string write_value(const ordered_json& value, std::size_t indent, std::size_t before) {
  constexpr std::size_t kColumns = 98;
  const std::string line = write_on_one_line(value);
  const bool whole = indent == 0 && before == 0;
  if (!value.is_structured() || value.empty()) return line;
  if (!whole && !has_parts(value) && indent + before + count_characters(line) + 1 <= kColumns) {
    return line;
  }
  const std::string margin(indent + 2, ' ');
  std::string text = value.is_object() ? "{\n" : "[\n";
  bool first = true;
  for (const auto& [key, part] : value.items()) {
    if (!first) text += ",\n";
    first = false;
    const std::string name = value.is_object() ? write_key(key) : "";
    text += margin + name + write_value(part, indent + 2, count_characters(name));
  }
  return text + "\n" + std::string(indent, ' ') + (value.is_object() ? "}" : "]");
}

}  // namespace

std::string write_case_document(const ordered_json& document) {
  return write_value(document, 0, 0) + "\n";
}

Result<CaseDraft> CaseDraft::read(std::string_view text) {
  // Grammar, size, depth and repeated keys: the strict reader; the order of keys: this one.
  if (auto strict = parse_json(text); !strict.ok()) return strict.problems();
  ordered_json document = ordered_json::parse(text);
  if (Problems problems = check_head(document); !problems.empty()) return problems;
  const bool is_older = document["version"] != kCaseVersion;
  Result<ordered_json> now = migrate(std::move(document), kCaseVersion);
  if (!now.ok()) return now.problems();
  CaseDraft draft(std::move(now).value(), std::string{text});
  if (is_older) draft.saved_ = nullptr;  // it stands on no disk in this shape
  return draft;
}

CaseDraft CaseDraft::begin(std::string_view title) {
  ordered_json document;
  document["format"] = kCaseFormat;
  document["version"] = kCaseVersion;
  document["title"] = title;
  document["deviation"] = {{"distance_pd", 0}, {"near_pd", 0}};
  std::string text = write_case_document(document);
  CaseDraft draft(std::move(document), std::move(text));
  draft.saved_ = nullptr;  // stands on no disk yet
  return draft;
}

CaseDraft::CaseDraft(ordered_json document, std::string text)
    : document_(std::move(document)),
      saved_(document_),
      saved_text_(std::move(text)),
      content_(parse_case(to_plain(document_))) {}

const ordered_json* CaseDraft::find(std::string_view pointer) const {
  const auto at = pointer_of(pointer);
  return document_.contains(at) ? &document_.at(at) : nullptr;
}

nlohmann::json CaseDraft::value_in_force(std::string_view pointer) const {
  const nlohmann::json::json_pointer at{std::string{pointer}};
  if (content_.ok()) {
    const nlohmann::json all = to_json(content_.value());
    if (all.contains(at)) return all.at(at);
  }
  const ordered_json* written = find(pointer);
  return written == nullptr ? nlohmann::json() : to_plain(*written);
}

void CaseDraft::set(std::string_view pointer, ordered_json value, std::string_view name) {
  ordered_json after = document_;
  ordered_json* place = &after;
  for (const std::string& token : tokens_of(pointer)) {
    const bool index = is_index(token);
    // A value in the way (a lens that was "none") makes room for the object or the list.
    if (!place->is_structured() || (place->is_array() && !index)) {
      *place = index ? ordered_json::array() : ordered_json::object();
    }
    if (!place->is_array()) {
      place = &(*place)[token];
      continue;
    }
    // What is written beyond the end of a list is its next.
    const std::size_t number = std::min<std::size_t>(std::stoul(token), place->size());
    if (number == place->size()) place->push_back(nullptr);
    place = &(*place)[number];
  }
  *place = std::move(value);
  change(std::move(after), pointer, name);
}

void CaseDraft::clear(std::string_view pointer, std::string_view name) {
  if (find(pointer) == nullptr) return;
  ordered_json after = document_;
  auto at = pointer_of(pointer);
  while (!at.empty()) {
    const auto parent = at.parent_pointer();
    ordered_json& holder = after.at(parent);
    if (holder.is_array()) {
      holder.erase(std::stoul(at.back()));
    } else {
      holder.erase(at.back());
    }
    if (!holder.empty() || parent.empty() || parent.to_string() == "/deviation") break;
    at = parent;
  }
  change(std::move(after), pointer, name);
}

void CaseDraft::take(ordered_json document, std::string_view name) {
  settled_ = true;
  change(std::move(document), "", name);
  settled_ = true;
}

void CaseDraft::change(ordered_json after, std::string_view place, std::string_view name) {
  if (after == document_) return;
  changes_.resize(done_);  // what was taken back is gone
  const bool goes_on = !settled_ && !changes_.empty() && changes_.back().place == place &&
                       changes_.back().name == name;
  if (goes_on) {
    changes_.back().after = after;
  } else {
    changes_.push_back({std::string{name}, std::string{place}, document_, after});
    if (changes_.size() > kMostChanges) changes_.erase(changes_.begin());
  }
  done_ = changes_.size();
  settled_ = false;
  document_ = std::move(after);
  reread();
}

std::string_view CaseDraft::undo_name() const {
  return done_ == 0 ? std::string_view{} : std::string_view{changes_[done_ - 1].name};
}

std::string_view CaseDraft::redo_name() const {
  return done_ == changes_.size() ? std::string_view{} : std::string_view{changes_[done_].name};
}

void CaseDraft::undo() {
  if (done_ == 0) return;
  document_ = changes_[--done_].before;
  settled_ = true;
  reread();
}

void CaseDraft::redo() {
  if (done_ == changes_.size()) return;
  document_ = changes_[done_++].after;
  settled_ = true;
  reread();
}

void CaseDraft::reread() {
  ++revision_;
  content_ = parse_case(to_plain(document_));
}

std::string CaseDraft::text() const {
  return is_changed() ? write_case_document(document_) : saved_text_;
}

void CaseDraft::mark_saved() {
  saved_text_ = text();
  saved_ = document_;
}

}  // namespace redress
