// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/department.hpp"

#include <cstdint>

#include "sim/basics/json_reader.hpp"

namespace redress::findings {

namespace {

constexpr std::size_t kTextBytes = 400;
enum class Format : std::uint8_t { department };
constexpr NamedValue<Format> kFormatWords[] = {{"redress-department", Format::department}};

}  // namespace

Result<Department> read_department_text(std::string_view text) {
  const Result<nlohmann::json> parsed = parse_json(text);
  if (!parsed) return parsed.problems();
  Problems problems;
  ObjectReader reader(parsed.value(), "", problems);
  reader.required_enumerated("format", kFormatWords);
  reader.required_integer("version", 1, 1);
  Department d;
  d.title = reader.required_string("title", kTextBytes).value_or("");
  d.example = reader.boolean("example", false);
  ObjectReader urgency = reader.required_object("urgency");
  const char* const steps[] = {"same_day", "urgent", "soon", "routine"};
  for (std::size_t i = 0; i < d.urgency.size(); ++i) {
    d.urgency[i] = urgency.required_string(steps[i], kTextBytes).value_or("");
  }
  urgency.finish();
  ObjectReader driving = reader.required_object("driving");
  const char* const advice[] = {"no_bar", "not_until_controlled", "notify_authority"};
  for (std::size_t i = 0; i < d.driving.size(); ++i) {
    d.driving[i] = driving.required_string(advice[i], kTextBytes).value_or("");
  }
  driving.finish();
  reader.finish();
  if (!problems.empty()) return problems;
  return d;
}

}  // namespace redress::findings
