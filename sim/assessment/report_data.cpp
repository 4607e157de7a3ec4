// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A cohort as CSV, JSON and xAPI statements (sim/assessment/report.hpp).
#include <algorithm>

#include <fmt/format.h>

#include "sim/assessment/report.hpp"
#include "sim/basics/content_hash.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::assessment {

namespace {

using nlohmann::ordered_json;

double rounded(double x, int decimals) {
  double scale = 1.0;
  for (int i = 0; i < decimals; ++i) scale *= 10.0;
  return static_cast<double>(static_cast<long long>(x * scale + (x < 0.0 ? -0.5 : 0.5))) / scale;
}

ordered_json number(double x, int decimals = 2) {
  return ordered_json(to_json_number(rounded(x, decimals)));
}
ordered_json number(const std::optional<double>& x, int decimals = 2) {
  return x ? number(*x, decimals) : ordered_json(nullptr);
}
ordered_json interval(const Interval& i, int decimals = 2) {
  return ordered_json::array({number(i.low, decimals), number(i.high, decimals)});
}

std::string csv_cell(std::string_view text) {
  if (text.find_first_of(",\"\n\r") == std::string_view::npos) return std::string(text);
  std::string cell = "\"";
  for (const char c : text) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
  return cell + "\"";
}

std::string numbers_of(const std::vector<std::size_t>& stations, const char* between) {
  std::string all;
  for (const std::size_t s : stations) all += (all.empty() ? "" : between) + std::to_string(s + 1);
  return all;
}

// A version 5 style UUID: the first bits of a hash of what the statement is about (RFC 4122, 4.3;
// the hash is BLAKE2b, so the version says 8, custom: RFC 9562).
std::string make_uuid(std::string_view about) {
  std::string h = calc_hash(about).substr(0, 32);
  h[12] = '8';
  h[16] = "89ab"[static_cast<std::size_t>(h[16] >= 'a' ? h[16] - 'a' + 10 : h[16] - '0') % 4];
  return h.substr(0, 8) + "-" + h.substr(8, 4) + "-" + h.substr(12, 4) + "-" + h.substr(16, 4) +
         "-" + h.substr(20, 12);
}

}  // namespace

std::string make_csv(const Cohort& cohort, const CohortFigures& figures) {
  std::string text = "candidate";
  for (const StationFigures& s : figures.stations) {
    text += "," + csv_cell(fmt::format("{} {}", s.station + 1, s.name));
  }
  text += ",total,decision,near_line,unsafe\n";
  for (std::size_t p = 0; p < cohort.rows.size(); ++p) {
    const CandidateFigures& c = figures.candidates_in_order[p];
    text += csv_cell(c.candidate);
    for (const CohortMark& mark : cohort.rows[p].stations)
      text += fmt::format(",{:.1f}", mark.marks);
    text += fmt::format(",{:.2f},{},{},{}\n", c.total, to_words(c.decision), c.near_line ? 1 : 0,
                        numbers_of(c.unsafe, " "));
  }
  return text;
}

ordered_json make_json(const Cohort& cohort, const CohortFigures& f, const ReportHead& head) {
  ordered_json out = ordered_json::object();
  out["title"] = cohort.circuit.title;
  out["circuit"] = head.circuit_seal;
  out["engine"] = head.engine;
  out["rehearsal"] = head.rehearsal;
  out["candidates"] = f.candidates;
  out["passed"] = f.passed;
  out["passed_interval"] = interval(f.passed_interval, 4);
  out["mean"] = number(f.mean);
  out["deviation"] = number(f.deviation);
  out["pass_mark"] = {{"standard", std::string(to_words(f.standard))},
                      {"mark", number(f.cut.mark)},
                      {"error", number(f.cut.error)},
                      {"note", f.standard_note}};
  out["alpha"] = number(f.alpha, 4);
  out["error_of_measurement"] = number(f.error_of_measurement);
  out["generalisability"] = number(f.generalisability, 4);
  out["dependability"] = number(f.dependability, 4);
  out["stations_for_080"] =
      f.stations_for_080 ? ordered_json(*f.stations_for_080) : ordered_json(nullptr);
  out["projected_generalisability"] = ordered_json::array();
  for (const double g : f.projected) out["projected_generalisability"].push_back(number(g, 4));
  out["kappa"] = number(f.kappa, 4);
  out["overruled"] = f.overruled;
  out["items_marked"] = f.items_marked;
  if (f.sizes) {
    out["sizes"] = {{"count", f.sizes->count},
                    {"bias_pd", number(f.sizes->bias)},
                    {"limits_pd", interval(f.sizes->limits)},
                    {"bias_interval_pd", interval(f.sizes->bias_interval)}};
  }
  out["stations"] = ordered_json::array();
  for (const StationFigures& s : f.stations) {
    out["stations"].push_back({{"station", s.station + 1},
                               {"name", s.name},
                               {"difficulty", number(s.difficulty, 4)},
                               {"discrimination", number(s.discrimination, 4)},
                               {"mean", number(s.mean)},
                               {"deviation", number(s.deviation)},
                               {"share_passing", number(s.share_passing, 4)},
                               {"share_finishing", number(s.share_finishing, 4)},
                               {"alpha_without", number(s.alpha_without, 4)},
                               {"pass_mark", number(s.cut.mark)},
                               {"look_at", s.look_at}});
  }
  const auto names = [&](const auto& chosen) {
    ordered_json list = ordered_json::array();
    for (std::size_t i = 0; i < f.candidates_in_order.size(); ++i) {
      if (chosen(i)) list.push_back(f.candidates_in_order[i].candidate);
    }
    return list;
  };
  out["near_line"] = names([&](std::size_t i) { return f.candidates_in_order[i].near_line; });
  out["unsafe"] = names([&](std::size_t i) { return !f.candidates_in_order[i].unsafe.empty(); });
  out["second_marking"] = names([&](std::size_t i) {
    return std::find(f.second_marking.begin(), f.second_marking.end(), i) != f.second_marking.end();
  });
  out["lost"] = ordered_json::array();
  for (const LostItem& lost : f.lost) {
    const auto& line = scoring::kRubric[static_cast<std::size_t>(lost.item)];
    out["lost"].push_back({{"item", line.name},
                           {"title", line.title},
                           {"share_of_candidates", number(lost.share_of_candidates, 4)},
                           {"share_lost", number(lost.marks, 4)}});
  }
  return out;
}

Problems check_xapi(const XapiContext& context) {
  Problems problems;
  const auto is_address = [](const std::string& text) {
    return (text.starts_with("https://") || text.starts_with("http://")) &&
           text.find_first_of(" <>\"{}|\\^`") == std::string::npos && text.size() > 8;
  };
  if (!is_address(context.home_page)) {
    problems.push_back({"/home_page", "is \"" + context.home_page +
                                          "\"; allowed: an address, as in https://example.org"});
  }
  // YYYY-MM-DDThh:mm:ss, a fraction, Z or an offset (RFC 3339, which the standard asks for).
  const std::string& when = context.timestamp;
  constexpr std::string_view kPattern = "dddd-dd-ddTdd:dd:dd";
  bool good = when.size() > kPattern.size();
  for (std::size_t i = 0; good && i < kPattern.size(); ++i) {
    const bool digit = when[i] >= '0' && when[i] <= '9';
    good = kPattern[i] == 'd' ? digit : when[i] == kPattern[i];
  }
  if (good) {
    std::string_view zone = std::string_view(when).substr(kPattern.size());
    if (zone.starts_with(".")) {
      const std::size_t digits = zone.find_first_not_of("0123456789", 1);
      good = digits != std::string_view::npos && digits > 1;
      if (good) zone.remove_prefix(digits);
    }
    const auto is_digit = [&](std::size_t i) { return zone[i] >= '0' && zone[i] <= '9'; };
    good = good && (zone == "Z" || (zone.size() == 6 && (zone[0] == '+' || zone[0] == '-') &&
                                    is_digit(1) && is_digit(2) && zone[3] == ':' && is_digit(4) &&
                                    is_digit(5) && zone != "-00:00"));
  }
  if (!good) {
    problems.push_back({"/when", "is \"" + when +
                                     "\"; allowed in statements: a time with its zone, as in "
                                     "2026-11-24T17:00:00Z"});
  }
  return problems;
}

ordered_json make_xapi(const Cohort& cohort, const CohortFigures& figures,
                       std::string_view circuit_id, const XapiContext& context) {
  ordered_json statements = ordered_json::array();
  const std::string circuit_iri =
      context.activity_base + "/circuit/" + std::string(circuit_id.substr(0, 16));
  const auto activity = [](const std::string& iri, const std::string& name, const char* type) {
    return ordered_json{{"objectType", "Activity"},
                        {"id", iri},
                        {"definition",
                         {{"name", {{"en-GB", name}}},
                          {"type", std::string("http://adlnet.gov/expapi/activities/") + type}}}};
  };
  const auto verb = [](const char* word) {
    return ordered_json{{"id", std::string("http://adlnet.gov/expapi/verbs/") + word},
                        {"display", {{"en-GB", word}}}};
  };
  const auto score = [](double marks) {
    return ordered_json{
        {"scaled", number(marks / 100.0, 4)}, {"raw", number(marks)}, {"min", 0}, {"max", 100}};
  };
  for (std::size_t p = 0; p < cohort.rows.size(); ++p) {
    const CandidateFigures& c = figures.candidates_in_order[p];
    const ordered_json actor{{"objectType", "Agent"},
                             {"account", {{"homePage", context.home_page}, {"name", c.candidate}}}};
    const auto add = [&](const std::string& about, const ordered_json& what,
                         const ordered_json& done, ordered_json result) {
      statements.push_back({{"id", make_uuid(std::string(circuit_id) + "/" + about)},
                            {"actor", actor},
                            {"verb", done},
                            {"object", what},
                            {"result", std::move(result)},
                            {"timestamp", context.timestamp},
                            {"version", "2.0.0"}});
    };
    for (std::size_t i = 0; i < figures.stations.size(); ++i) {
      const StationFigures& s = figures.stations[i];
      const std::string tail = std::to_string(s.station + 1);
      add(c.candidate + "/" + tail,
          activity(circuit_iri + "/station/" + tail, "Station " + tail, "assessment"),
          verb("completed"),
          {{"score", score(cohort.rows[p].stations[i].marks)},
           {"completion", cohort.rows[p].stations[i].finished}});
    }
    ordered_json result{{"score", score(c.total)}, {"completion", true}};
    if (c.decision != Decision::board) result["success"] = c.decision == Decision::pass;
    add(c.candidate, activity(circuit_iri, cohort.circuit.title, "assessment"),
        verb(c.decision == Decision::board  ? "completed"
             : c.decision == Decision::pass ? "passed"
                                            : "failed"),
        std::move(result));
  }
  return statements;
}

}  // namespace redress::assessment
