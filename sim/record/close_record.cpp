// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/close_record.hpp"

#include <algorithm>
#include <sstream>
#include <utility>

#include "sim/basics/json_reader.hpp"
#include "sim/record/record_file.hpp"

namespace redress::record {

Result<std::string> close_record(std::string_view text) {
  Result<CutRecord> cut = read_cut_record(text);
  if (!cut) return cut.problems();
  if (cut.value().record.end) return std::string(text);
  std::string kept(text.substr(0, cut.value().verdict.good_bytes));
  // The replies of a tick stand before its state and its acts: those that come last of all may not
  // be all of them.
  for (;;) {
    const std::size_t before = kept.rfind('\n', kept.size() - 2);
    if (before == std::string::npos) break;
    const Result<nlohmann::json> line =
        parse_json(kept.substr(before + 1, kept.size() - before - 2));
    if (!line || !line.value().contains("reply")) break;
    kept.resize(before + 1);
  }
  cut = read_cut_record(kept);
  if (!cut) return cut.problems();
  const Record& record = cut.value().record;
  if (record.states.empty()) return Problems{{"", "was cut short before it began"}};
  std::ostringstream end;
  RecordWriter(end, cut.value().resumption)
      .end(
          std::max(record.states.back().first, record.acts.empty() ? 0 : record.acts.back().at_ms));
  return kept + end.str();
}

}  // namespace redress::record
