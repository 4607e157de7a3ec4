// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/marks.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/station_lines.hpp"
#include "sim/basics/content_hash.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::assessment {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;
using scoring::Item;

constexpr std::string_view kFormat = "redress-marks";
constexpr int kVersion = 1;
constexpr std::size_t kLongText = 4000;
constexpr std::int64_t kMostStations = 60;
constexpr double kMostMarks = 100.0;

std::optional<Item> find_item(std::string_view name) {
  for (const scoring::RubricLine& line : scoring::kRubric) {
    if (name == line.name) return line.item;
  }
  return std::nullopt;
}

std::string to_line(const ordered_json& object) {
  return object.dump(-1, ' ', false, ordered_json::error_handler_t::replace);
}

// Overrulings and ratings as a reader finds them; false: it is neither.
bool read_entry(const json& line, Ledger& ledger) {
  Problems problems;
  ObjectReader reader(line, "", problems);
  const std::string candidate = reader.required_string("candidate", kLongText).value_or("");
  const std::int64_t station = reader.required_integer("station", 1, kMostStations).value_or(1);
  const auto number = static_cast<std::size_t>(station - 1);
  if (reader.has("rating")) {
    const std::string word = reader.required_string("rating", kLongText).value_or("");
    const auto found = std::find(kRatingNames.begin(), kRatingNames.end(), word);
    if (!problems.empty() || found == kRatingNames.end()) return false;
    ledger.ratings.push_back(
        {candidate, number, static_cast<GlobalRating>(found - kRatingNames.begin())});
    return true;
  }
  Overruling o;
  o.candidate = candidate;
  o.station = number;
  const auto item = find_item(reader.required_string("item", kLongText).value_or(""));
  o.engine = reader.required_number("engine", 0.0, kMostMarks).value_or(0.0);
  o.marks = reader.required_number("marks", 0.0, kMostMarks).value_or(0.0);
  o.reason = reader.required_string("reason", kLongText).value_or("");
  if (!problems.empty() || !item) return false;
  o.item = *item;
  ledger.overrulings.push_back(std::move(o));
  return true;
}

int grade_of(double marks, double max) {
  constexpr double kAlmost = 0.005;
  if (marks <= kAlmost) return 0;
  return marks >= max - kAlmost ? 2 : 1;
}

double one_decimal(double x) {
  return static_cast<double>(static_cast<int>(x * 10.0 + 0.5)) / 10.0;
}

}  // namespace

std::string begin_ledger(const CircuitId& circuit, const WorkstationKey& key, std::string& chain) {
  chain.clear();
  ordered_json first = ordered_json::object();
  first["format"] = std::string(kFormat);
  first["version"] = kVersion;
  first["circuit"] = to_text(circuit);
  first["assessor"] = key.workstation;
  first["key"] = to_hex_text(key.key.public_key());
  first["certificate"] = key.certificate;
  return make_signed_line(to_line(first), key.key, chain);
}

Result<std::string> write_overruling(const Overruling& o, double most, const WorkstationKey& key,
                                     std::string& chain) {
  Problems problems;
  if (o.reason.find_first_not_of(" \t\n") == std::string::npos) {
    problems.push_back({"/reason", "is empty; allowed: why the engine's marks are not right"});
  }
  if (!(o.marks >= 0.0 && o.marks <= most)) {
    problems.push_back({"/marks", "is " + redress::to_text(o.marks) + "; allowed: 0 to " +
                                      redress::to_text(most)});
  }
  if (!problems.empty()) return problems;
  ordered_json line = ordered_json::object();
  line["candidate"] = o.candidate;
  line["station"] = o.station + 1;
  line["item"] = scoring::kRubric[static_cast<std::size_t>(o.item)].name;
  line["engine"] = to_json_number(o.engine);
  line["marks"] = to_json_number(o.marks);
  line["reason"] = o.reason;
  return make_signed_line(to_line(line), key.key, chain);
}

std::string write_rating(const Rating& rating, const WorkstationKey& key, std::string& chain) {
  ordered_json line = ordered_json::object();
  line["candidate"] = rating.candidate;
  line["station"] = rating.station + 1;
  line["rating"] = std::string(kRatingNames[static_cast<std::size_t>(rating.rating)]);
  return make_signed_line(to_line(line), key.key, chain);
}

Result<Ledger> read_ledger(std::string_view text, const CircuitId& circuit) {
  Ledger ledger;
  PublicKey key{};
  std::size_t number = 0;
  const auto altered = [&](const std::string& why) {
    return Problems{{"line " + std::to_string(number), "was altered: " + why}};
  };
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    ++number;
    const std::string_view content = text.substr(at, end - at);
    const auto parts = find_signature(content);
    if (end == std::string_view::npos) {
      // The signatures before hold: what was being written when the power went is lost.
      if (content.size() > 1 && find_signature(content.substr(0, content.size() - 1))) {
        return altered("its line end is another character");
      }
      ledger.cut_short = true;
      break;
    }
    at = end + 1;
    const Result<json> line =
        parts ? parse_json(std::string(parts->body) + "}") : Result<json>(Problems{});
    if (!line || !line.value().is_object()) return altered("it cannot be read");
    if (number == 1) {
      Problems problems;
      ObjectReader reader(line.value(), "", problems);
      const std::string format = reader.required_string("format", kLongText).value_or("");
      const std::int64_t version = reader.required_integer("version", 1, 1 << 30).value_or(1);
      const auto id = parse_circuit_id(reader.required_string("circuit", kLongText).value_or(""));
      ledger.assessor = reader.required_string("assessor", kLongText).value_or("");
      const std::string key_text = reader.required_string("key", kLongText).value_or("");
      const std::string certificate = reader.required_string("certificate", kLongText).value_or("");
      if (format != kFormat) return Problems{{"", "is not a ledger of marks"}};
      if (version != kVersion) {
        return Problems{
            {"/version", "is " + std::to_string(version) +
                             ", a newer version; allowed: " + std::to_string(kVersion)}};
      }
      if (!problems.empty() || !id || !from_hex_text(key_text, key) ||
          !is_certified(*id, ledger.assessor, key, certificate)) {
        return altered("its circuit has not certified the assessor");
      }
      if (!(*id == circuit)) {
        return Problems{{"", "is not from this circuit (" + to_short_text(circuit) + ") but from " +
                                 to_short_text(*id)}};
      }
    }
    if (!fits(*parts, key, ledger.chain)) {
      return altered("its signature does not fit it and the lines before");
    }
    if (number > 1 && !read_entry(line.value(), ledger)) return altered("it says no marks");
    ledger.chain = calc_next_chain(*parts, ledger.chain);
  }
  if (number == 0) return Problems{{"", "is empty"}};
  return ledger;
}

std::optional<GlobalRating> FinalMarks::rating() const {
  if (ratings.empty()) return std::nullopt;
  double sum = 0.0;
  for (const auto& [assessor, rating] : ratings) sum += static_cast<double>(rating);
  return static_cast<GlobalRating>(
      static_cast<int>(sum / static_cast<double>(ratings.size()) + 0.5));
}

std::size_t FinalMarks::overruled() const {
  return static_cast<std::size_t>(std::count_if(
      items.begin(), items.end(), [](const FinalItem& item) { return !item.reasons.empty(); }));
}

FinalMarks apply_ledgers(const scoring::ScoreSheet& sheet, std::string_view candidate,
                         std::size_t station, std::span<const Ledger> ledgers) {
  FinalMarks out;
  out.engine_total = sheet.total;
  out.unsafe = sheet.unsafe;
  double sum = 0.0;
  for (const scoring::ItemScore& score : sheet.items) {
    FinalItem item{score.item, score.max, score.marks, score.marks, {}};
    double marks = 0.0;
    for (const Ledger& ledger : ledgers) {
      const Overruling* last = nullptr;
      for (const Overruling& o : ledger.overrulings) {
        if (o.candidate == candidate && o.station == station && o.item == score.item) last = &o;
      }
      if (last == nullptr) continue;
      marks += std::min(last->marks, score.max);
      item.reasons.push_back(ledger.assessor + ": " + last->reason);
    }
    if (!item.reasons.empty()) item.final = marks / static_cast<double>(item.reasons.size());
    sum += item.final;
    out.items.push_back(std::move(item));
  }
  for (const Ledger& ledger : ledgers) {
    const Rating* last = nullptr;
    for (const Rating& r : ledger.ratings) {
      if (r.candidate == candidate && r.station == station) last = &r;
    }
    if (last != nullptr) out.ratings.emplace_back(ledger.assessor, last->rating);
  }
  for (const scoring::Cap& cap : sheet.caps) sum = std::min(sum, cap.limit);
  out.total = out.overruled() == 0 ? sheet.total : one_decimal(sum);
  return out;
}

Table count_agreement(std::span<const FinalMarks> marks) {
  Table counts(3, std::vector<double>(3, 0.0));
  for (const FinalMarks& one : marks) {
    for (const FinalItem& item : one.items) {
      if (item.max <= 0.0) continue;
      counts[static_cast<std::size_t>(grade_of(item.engine, item.max))]
            [static_cast<std::size_t>(grade_of(item.final, item.max))] += 1.0;
    }
  }
  return counts;
}

std::vector<std::size_t> choose_for_second_marking(std::span<const std::string> candidates,
                                                   std::span<const double> totals, double line,
                                                   double error, std::string_view circuit_id) {
  std::vector<std::size_t> chosen;
  std::vector<std::pair<std::string, std::size_t>> others;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (totals[i] >= line - error && totals[i] <= line + error) {
      chosen.push_back(i);
    } else {
      others.emplace_back(calc_hash(circuit_id, candidates[i]), i);
    }
  }
  std::sort(others.begin(), others.end());  // the index tells equal hashes apart
  const std::size_t tenth = (others.size() + 9) / 10;
  for (std::size_t i = 0; i < tenth; ++i) chosen.push_back(others[i].second);
  std::sort(chosen.begin(), chosen.end());  // indices, each once
  return chosen;
}

}  // namespace redress::assessment
