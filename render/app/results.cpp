// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/results.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>

#include "sim/basics/file.hpp"

namespace redress::app {

namespace {

constexpr const char* kFile = "done.jsonl";
constexpr std::array<std::string_view, 12> kMonths{"January",   "February", "March",    "April",
                                                   "May",       "June",     "July",     "August",
                                                   "September", "October",  "November", "December"};

std::optional<std::chrono::year_month_day> parse_date(const std::string& date) {
  int year = 0;
  unsigned month = 0;
  unsigned day = 0;
  char extra = 0;
  if (std::sscanf(date.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &extra) != 3) return {};
  const std::chrono::year_month_day parsed{std::chrono::year{year}, std::chrono::month{month},
                                           std::chrono::day{day}};
  if (!parsed.ok()) return {};
  return parsed;
}

std::tm local_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  localtime_r(&now, &parts);
  return parts;
}

std::string_view month_of(const std::chrono::year_month_day& date) {
  return kMonths[static_cast<unsigned>(date.month()) - 1];
}

}  // namespace

std::vector<DoneExamination> parse_results(const std::string& text) {
  std::vector<DoneExamination> results;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const nlohmann::json json =
        nlohmann::json::parse(text.begin() + static_cast<std::ptrdiff_t>(at),
                              text.begin() + static_cast<std::ptrdiff_t>(end), nullptr, false);
    at = end + 1;
    if (!json.is_object()) continue;
    const auto word = [&](const char* key) {
      const auto found = json.find(key);
      return found != json.end() && found->is_string() ? found->get<std::string>() : std::string{};
    };
    const auto total = json.find("total");
    if (word("case").empty() || total == json.end() || !total->is_number()) continue;
    results.push_back({word("case"), word("date"), total->get<double>(), word("record")});
  }
  return results;
}

std::string format_result(const DoneExamination& done) {
  const nlohmann::json json{
      {"case", done.case_key}, {"date", done.date}, {"total", done.total}, {"record", done.record}};
  return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

std::vector<DoneExamination> load_results(const std::string& folder) {
  std::error_code ignored;
  const std::string path = folder + "/" + kFile;
  if (folder.empty() || !std::filesystem::is_regular_file(path, ignored)) return {};
  const Result<std::string> text = read_file(path);
  return text.ok() ? parse_results(text.value()) : std::vector<DoneExamination>{};
}

std::string add_result(const std::string& folder, const DoneExamination& done) {
  if (folder.empty()) return "";
  std::ofstream out(folder + "/" + kFile, std::ios::app | std::ios::binary);
  out << format_result(done);
  out.flush();
  return out ? "" : "That this case was done could not be kept.";
}

std::string find_today() { return fmt::format("{:%Y-%m-%d}", local_now()); }
std::string find_clock() { return fmt::format("{:%H:%M}", local_now()); }

std::string find_moment() { return fmt::format("{:%Y%m%d-%H%M%S}", local_now()); }

std::string write_day(const std::string& date) {
  const auto parsed = parse_date(date);
  if (!parsed) return "";
  return fmt::format("{} {}", static_cast<unsigned>(parsed->day()), month_of(*parsed));
}

std::string describe_date(const std::string& date, const std::string& today) {
  const auto then = parse_date(date);
  const auto now = parse_date(today);
  if (!then || !now) return "";
  const auto days = std::chrono::sys_days{*now} - std::chrono::sys_days{*then};
  if (days.count() == 0) return "today";
  if (days.count() == 1) return "yesterday";
  const std::string day =
      fmt::format("{} {}", static_cast<unsigned>(then->day()), month_of(*then).substr(0, 3));
  if (then->year() == now->year()) return day;
  return fmt::format("{} {}", day, static_cast<int>(then->year()));
}

}  // namespace redress::app
