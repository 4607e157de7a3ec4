// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/case_head.hpp"

#include <array>
#include <cstdint>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/defaults.hpp"

namespace redress {

namespace {

/// Hears the file as it is read; keeps a few values of the two upper levels.
class HeadListener {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  bool null() { return true; }
  bool boolean(bool /*unused*/) { return true; }
  bool number_integer(number_integer_t value) { return take(static_cast<double>(value)); }
  bool number_unsigned(number_unsigned_t value) { return take(static_cast<double>(value)); }
  bool number_float(number_float_t value, const string_t& /*unused*/) { return take(value); }
  bool binary(binary_t& /*unused*/) { return true; }
  bool string(string_t& value) {
    if (at("format")) format = value;
    if (at("title")) head.title = std::move(value);
    if (at("patient", "name")) head.name = std::move(value);
    if (at("teaching", "goal")) head.goal = std::move(value);
    return true;
  }
  bool key(string_t& value) {
    if (depth_ >= 1 && depth_ <= keys_.size()) keys_[depth_ - 1] = std::move(value);
    return true;
  }
  bool start_object(std::size_t /*unused*/) { return down(); }
  bool end_object() { return up(); }
  bool start_array(std::size_t /*unused*/) {
    // What is in a list has no key of its own.
    if (depth_ < keys_.size()) keys_[depth_].clear();
    return down();
  }
  bool end_array() { return up(); }
  bool parse_error(std::size_t /*unused*/, const std::string& /*unused*/,
                   const nlohmann::json::exception& /*unused*/) {
    return false;
  }

  CaseHead head;
  std::string format;
  double version = 0.0;

 private:
  bool take(double value) {
    if (at("version")) version = value;
    if (at("patient", "age_years")) head.age_years = value;
    if (at("teaching", "level")) head.level = to_small(value);
    if (at("teaching", "step")) head.step = to_small(value);
    return true;
  }
  static int to_small(double value) {
    return value >= 0.0 && value <= 99.0 ? static_cast<int>(value) : 0;
  }
  [[nodiscard]] bool at(std::string_view key) const { return depth_ == 1 && keys_[0] == key; }
  [[nodiscard]] bool at(std::string_view outer, std::string_view key) const {
    return depth_ == 2 && keys_[0] == outer && keys_[1] == key;
  }
  bool down() { return ++depth_ <= JsonLimits{}.depth; }
  bool up() {
    --depth_;
    return true;
  }

  std::size_t depth_ = 0;
  std::array<std::string, 2> keys_;
};

}  // namespace

Result<CaseHead> read_case_head(std::string_view text) {
  HeadListener listener;
  const Case usual = make_healthy_case();
  listener.head.name = usual.patient.name;
  listener.head.age_years = usual.patient.age_years;
  if (text.size() > JsonLimits{}.size_bytes || !nlohmann::json::sax_parse(text, &listener)) {
    // Whoever reads it whole says where it is wrong.
    Result<nlohmann::json> whole = parse_json(text);
    if (!whole) return whole.problems();
    return Problems{{"", "cannot be read"}};
  }
  if (listener.format != kCaseFormat) {
    return Problems{
        {"/format", fmt::format("is {}; allowed: \"{}\"",
                                short_text(nlohmann::json(listener.format)), kCaseFormat)}};
  }
  if (listener.version > kCaseVersion) {
    return Problems{{"/version", fmt::format("written by a newer version ({}; this one reads {})",
                                             listener.version, kCaseVersion)}};
  }
  return std::move(listener.head);
}

}  // namespace redress
