// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/record_file.hpp"

#include <algorithm>
#include <string>

#include "sim/basics/json_reader.hpp"
#include "sim/record/act_json.hpp"

namespace redress::record {

namespace {

using nlohmann::json;

constexpr std::size_t kMostProblems = 100;
constexpr std::size_t kLongestReply = 64 * 1024;  // bytes

std::optional<std::uint64_t> parse_hex(std::string_view text) {
  if (text.size() != 16) return std::nullopt;
  std::uint64_t value = 0;
  for (const char c : text) {
    const bool digit = c >= '0' && c <= '9';
    if (!digit && !(c >= 'a' && c <= 'f')) return std::nullopt;
    value = value << 4 | static_cast<std::uint64_t>(digit ? c - '0' : c - 'a' + 10);
  }
  return value;
}

/// Takes the lines one after another. The chain has shown that they are as they were written; what
/// is checked here is whether they were written rightly.
class LineReader {
 public:
  void read(std::string_view line, std::size_t number) {
    const std::string place = "line " + std::to_string(number);
    Result<json> parsed = parse_json(line);
    if (!parsed.ok()) {
      add(place, parsed.problems());
      return;
    }
    json value = std::move(parsed).value();
    Problems problems;
    if (number == 1) {
      read_header(value, problems);
    } else if (value.is_object() && value.contains("act")) {
      read_act(std::move(value), problems);
    } else {
      read_derived(value, problems);
    }
    add(place, problems);
  }

  [[nodiscard]] bool failed() const { return problems_.size() >= kMostProblems; }
  [[nodiscard]] const Problems& problems() const { return problems_; }
  [[nodiscard]] Record take() { return std::move(record_); }

 private:
  void add(const std::string& place, const Problems& problems) {
    for (const Problem& problem : problems) {
      problems_.push_back(
          {place + (problem.place.empty() ? "" : " " + problem.place), problem.message});
    }
  }

  void read_header(const json& value, Problems& problems) {
    ObjectReader object(value, "", problems);
    RecordHeader& header = record_.header;
    object.raw("format");  // verify has read both
    object.raw("version");
    header.engine = object.required_string("engine", 80).value_or("");
    header.arithmetic = object.required_string("arithmetic", 16).value_or("");
    object.required_integer("tick_ms", 1, 1);
    const auto seed = object.required_integer("seed", 0, static_cast<std::int64_t>(kLargestSeed));
    header.seed = static_cast<std::uint64_t>(seed.value_or(0));
    header.noise = object.required_number("noise", 0.0, kMostNoise).value_or(1.0);
    header.case_hash = object.required_string("case_hash", 64).value_or("");
    object.required_object("case");
    object.raw("chain");
    object.finish();
    if (!problems.empty()) return;
    header.the_case = value["case"];
    const std::string hash = calc_case_hash(header.the_case);
    if (hash != header.case_hash) {
      object.report("case_hash",
                    "is not that of the case: " + header.case_hash + "; allowed: " + hash);
    }
  }

  void read_act(json value, Problems& problems) {
    const auto count = static_cast<std::int64_t>(record_.acts.size());
    const auto seq = value.find("seq");
    if (seq == value.end() || *seq != count) {
      problems.push_back(
          {"/seq", "is out of step: " + (seq == value.end() ? "missing" : short_text(*seq)) +
                       "; allowed: " + std::to_string(count)});
    }
    value.erase("seq");
    value.erase("chain");
    const Result<Act> read = parse_act(value);
    if (!read.ok()) {
      problems.insert(problems.end(), read.problems().begin(), read.problems().end());
      return;
    }
    record_.acts.push_back(read.value());
    check_order(latest_act_, read.value().at_ms, problems);
  }

  void read_derived(const json& value, Problems& problems) {
    ObjectReader object(value, "", problems);
    const Tick at_ms = object.required_integer("at_ms", 0, kLatestEnd).value_or(0);
    object.raw("chain");
    if (object.has("state")) {
      read_state(object, at_ms);
    } else if (object.has("reply")) {
      ObjectReader content = object.object("reply");
      Reply reply;
      reply.at_ms = at_ms;
      reply.to = content.required_string("to", kLongestReply).value_or("");
      reply.answer = content.required_string("answer", kLongestReply).value_or("");
      reply.text = content.required_string("text", kLongestReply).value_or("");
      content.finish();
      record_.replies.push_back(std::move(reply));
      check_order(latest_reply_, at_ms, problems);
    } else if (object.has("end")) {
      object.required_boolean("end");
      record_.end = at_ms;
      read_end(object, at_ms);
    } else {
      problems.push_back(
          {"", "is no line of a record; allowed: an act, a state, a reply or the end"});
      return;
    }
    object.finish();
  }

  void read_state(ObjectReader& object, Tick at_ms) {
    const std::string text = object.required_string("state", 16).value_or("");
    const std::optional<std::uint64_t> hash = parse_hex(text);
    if (!hash) object.report("state", "is no hash: " + text + "; allowed: 16 of 0 to 9, a to f");
    const Tick due = static_cast<Tick>(record_.states.size()) * kStateEveryMs;
    if (at_ms != due) {
      object.report("at_ms", "is not the time of the next state: " + std::to_string(at_ms) +
                                 "; allowed: " + std::to_string(due));
    }
    record_.states.emplace_back(at_ms, hash.value_or(0));
  }

  void read_end(ObjectReader& object, Tick at_ms) {
    const Tick latest = std::max(latest_act_, latest_reply_);
    if (at_ms < latest) {
      object.report("at_ms", "is before the last line: " + std::to_string(at_ms) +
                                 "; allowed: " + std::to_string(latest) + " or later");
    }
    const auto due = static_cast<std::size_t>(at_ms / kStateEveryMs + 1);
    if (record_.states.size() != due) {
      object.report("at_ms",
                    "does not fit the number of states: " + std::to_string(record_.states.size()) +
                        "; allowed: " + std::to_string(due));
    }
  }

  static void check_order(Tick& latest, Tick at_ms, Problems& problems) {
    if (at_ms < latest) {
      problems.push_back({"/at_ms", "is a step back: " + std::to_string(at_ms) +
                                        "; allowed: " + std::to_string(latest) + " or later"});
    }
    latest = std::max(latest, at_ms);
  }

  Record record_;
  Problems problems_;
  Tick latest_act_ = 0;
  Tick latest_reply_ = 0;
};

Result<Record> read_lines(std::string_view text) {
  LineReader reader;
  std::size_t number = 0;
  while (!text.empty() && !reader.failed()) {
    const std::size_t end = text.find('\n');
    reader.read(text.substr(0, end), ++number);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  if (!reader.problems().empty()) return reader.problems();
  return reader.take();
}

Problems refusal(const Verdict& verdict) {
  return {{verdict.line == 0 ? "" : "line " + std::to_string(verdict.line), verdict.message}};
}

}  // namespace

Result<Record> read_record(std::string_view text) {
  const Verdict verdict = verify(text);
  if (!verdict.whole()) return refusal(verdict);
  return read_lines(text);
}

Result<CutRecord> read_cut_record(std::string_view text) {
  Verdict verdict = verify(text);
  const bool readable = verdict.whole() || verdict.wholeness == Wholeness::cut_short;
  if (!readable || verdict.good_lines == 0) return refusal(verdict);
  Result<Record> record = read_lines(text.substr(0, verdict.good_bytes));
  if (!record.ok()) return record.problems();
  CutRecord cut{std::move(record).value(), std::move(verdict), {}};
  cut.resumption = {cut.verdict.chain, cut.verdict.good_lines,
                    static_cast<std::int64_t>(cut.record.acts.size())};
  return cut;
}

}  // namespace redress::record
