// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/verify.hpp"

#include <optional>
#include <utility>

#include "sim/basics/content_hash.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/record/record_format.hpp"
#include "sim/record/verify_on.hpp"

namespace redress::record {

namespace {

constexpr std::string_view kStart = "{\"format\":\"redress-record\"";

std::string line_name(std::size_t line) { return "line " + std::to_string(line); }

Verdict& conclude(Verdict& verdict, Wholeness wholeness, std::size_t line, std::string message) {
  verdict.wholeness = wholeness;
  verdict.line = line;
  verdict.message = std::move(message);
  return verdict;
}

/// The body of the last line of a record: {"at_ms":N,"end":true
bool is_end(std::string_view body) {
  constexpr std::string_view kFront = "{\"at_ms\":";
  constexpr std::string_view kBack = ",\"end\":true";
  if (body.size() <= kFront.size() + kBack.size()) return false;
  if (!body.starts_with(kFront) || !body.ends_with(kBack)) return false;
  body.remove_prefix(kFront.size());
  body.remove_suffix(kBack.size());
  return body.find_first_not_of("0123456789") == std::string_view::npos;
}

bool fits(std::string_view line, const ChainText& previous) {
  const std::optional<ChainedLine> parts = find_chain(line);
  return parts && parts->chain == calc_hash(previous, parts->body);
}

/// Looks at the first line, which says what the file is. False: the verdict is final.
bool check_first_line(std::string_view line, bool ended, Verdict& verdict) {
  if (!ended && !find_chain(line)) {
    // A record cut inside its first line, or something else without a line end.
    const std::size_t shown = line.size() < kStart.size() ? line.size() : kStart.size();
    if (line.substr(0, shown) == kStart.substr(0, shown)) {
      conclude(verdict, Wholeness::cut_short, 1,
               "was cut short in line 1: it holds no examination");
      return false;
    }
  }
  const Result<nlohmann::json> header = parse_json(line);
  const bool is_object = header.ok() && header.value().is_object();
  const bool says_record = is_object && header.value().contains("format") &&
                           header.value()["format"] == std::string(kFormat);
  if (!says_record) {
    if (fits(line, {})) {
      conclude(verdict, Wholeness::not_a_record, 1, "is another file of this program");
    } else if (find_chain(line)) {
      conclude(verdict, Wholeness::altered, 1, "was altered at line 1: its hash does not fit it");
    } else {
      conclude(verdict, Wholeness::not_a_record, 1,
               "is not a record: line 1 is not the beginning of one; allowed: " +
                   std::string(kStart) + ",...}");
    }
    return false;
  }
  const auto version = header.value().find("version");
  const bool numbered = version != header.value().end() && version->is_number_integer();
  if (numbered && version->get<std::int64_t>() > kVersion) {
    conclude(verdict, Wholeness::newer_version, 1,
             "is of a newer version: " + version->dump() +
                 "; allowed: " + std::to_string(kVersion) +
                 (fits(line, {}) ? "" : " (or line 1 was altered: its hash does not fit it)"));
    return false;
  }
  if (fits(line, {}) && (!numbered || *version != kVersion)) {
    conclude(verdict, Wholeness::not_a_record, 1,
             "is not a record of a version known here; allowed: " + std::to_string(kVersion));
    return false;
  }
  return true;
}

/// The bytes after the last line end.
Verdict judge_fragment(std::string_view fragment, std::size_t line, bool after_end,
                       Verdict verdict) {
  const ChainText& chain = verdict.chain;
  const std::string name = line_name(line);
  if (after_end) {
    return conclude(verdict, Wholeness::altered, line,
                    "was altered at " + name + ": it stands after the closing line");
  }
  if (fits(fragment, chain)) {
    return conclude(verdict, Wholeness::cut_short, line,
                    "was cut short in " + name + ": its line end is missing");
  }
  if (find_chain(fragment)) {
    return conclude(verdict, Wholeness::altered, line,
                    "was altered at " + name + ": its hash does not fit it");
  }
  if (find_chain(fragment.substr(0, fragment.size() - 1))) {
    return conclude(verdict, Wholeness::altered, line,
                    "was altered at " + name + ": its line end is another character");
  }
  return conclude(verdict, Wholeness::cut_short, line, "was cut short in " + name);
}

}  // namespace

Verdict verify(std::string_view text) { return verify_on(text, {}); }

Verdict verify_on(std::string_view text, const Verdict& so_far) {
  Verdict verdict;
  if (text.empty()) return conclude(verdict, Wholeness::not_a_record, 0, "is empty");
  verdict.good_lines = so_far.good_lines;
  verdict.good_bytes = so_far.good_bytes;
  verdict.chain = so_far.chain;
  bool after_end = so_far.whole();
  std::size_t line = so_far.good_lines;
  while (verdict.good_bytes < text.size()) {
    const std::string_view rest = text.substr(verdict.good_bytes);
    const std::size_t size = rest.find('\n');
    const bool ended = size != std::string_view::npos;
    const std::string_view content = rest.substr(0, size);
    ++line;
    if (line == 1 && !check_first_line(content, ended, verdict)) return verdict;
    if (!ended) return judge_fragment(content, line, after_end, std::move(verdict));
    const std::string name = line_name(line);
    if (after_end) {
      return conclude(verdict, Wholeness::altered, line,
                      "was altered at " + name + ": it stands after the closing line");
    }
    const std::optional<ChainedLine> parts = find_chain(content);
    if (!parts) {
      return conclude(verdict, Wholeness::altered, line,
                      "was altered at " + name + ": it does not end with its hash");
    }
    ChainText chain = calc_hash(verdict.chain, parts->body);
    if (chain != parts->chain) {
      return conclude(verdict, Wholeness::altered, line,
                      "was altered at " + name + ": its hash does not fit it and the lines before");
    }
    after_end = is_end(parts->body);
    verdict.good_lines = line;
    verdict.good_bytes += size + 1;
    verdict.chain = std::move(chain);
  }
  if (after_end) {
    return conclude(verdict, Wholeness::whole, line,
                    "is whole and unaltered (" + std::to_string(line) + " lines)");
  }
  return conclude(verdict, Wholeness::cut_short, line,
                  "was cut short after " + line_name(line) + ": the closing line is missing");
}

}  // namespace redress::record
