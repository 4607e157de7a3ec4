// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/preferences.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::app {

namespace {

constexpr const char* kFormat = "redress-preferences";
constexpr std::int64_t kVersion = 1;
constexpr const char* kFile = "preferences.json";

constexpr NamedValue<Role> kRoles[] = {
    {"learning", Role::learning}, {"teaching", Role::teaching}, {"examining", Role::examining}};
constexpr NamedValue<MouseHand> kHands[] = {
    {"right", MouseHand::right}, {"left", MouseHand::left}, {"none", MouseHand::none}};
constexpr NamedValue<Mode> kModeNames[] = {
    {"guided", Mode::guided}, {"free", Mode::free}, {"exam_like", Mode::exam_like}};
constexpr NamedValue<Tradition> kTraditions[] = {
    {"uk", Tradition::uk}, {"us", Tradition::us}, {"hospital", Tradition::hospital}};

Calibration read_calibration(const nlohmann::json& json, const std::string& place,
                             Problems& problems) {
  ObjectReader reader(json, place, problems);
  Calibration calibration;
  calibration.screen = reader.required_string("screen", 200).value_or("");
  calibration.width_px =
      static_cast<int>(reader.required_integer("width_px", 1, 65536).value_or(1));
  calibration.height_px =
      static_cast<int>(reader.required_integer("height_px", 1, 65536).value_or(1));
  calibration.pixels_per_mm = reader.required_number("pixels_per_mm", 0.5, 100).value_or(1);
  calibration.measured_on = reader.string("measured_on", 10);
  reader.finish();
  return calibration;
}

screens::examine::OwnKey read_own_key(const nlohmann::json& json, const std::string& place,
                                      Problems& problems) {
  ObjectReader reader(json, place, problems);
  screens::examine::OwnKey own;
  own.does = reader.required_string("does", 80).value_or("");
  constexpr std::int64_t kLastUsage = 231;  // of the keyboard page of the USB HID tables
  own.chord.key = static_cast<screens::examine::Scancode>(
      reader.required_integer("usage", 4, kLastUsage).value_or(4));
  own.chord.modifiers.shift = reader.boolean("shift", false);
  own.chord.modifiers.control = reader.boolean("control", false);
  reader.finish();
  return own;
}

/// None of them, where one cannot be: two acts on one key would both be lost.
std::vector<screens::examine::OwnKey> read_own_keys(ObjectReader& reader, Problems& problems) {
  std::vector<screens::examine::OwnKey> keys;
  const nlohmann::json* list = reader.array("keys", 0, 200);
  if (list == nullptr) return keys;
  const std::string place = reader.place_of("keys");
  const std::size_t before = problems.size();
  for (std::size_t i = 0; i < list->size(); ++i) {
    keys.push_back(read_own_key((*list)[i], pointer_to(place, i), problems));
  }
  if (problems.size() > before) return {};
  screens::examine::KeyMap map;
  if (const auto trouble = map.use(keys)) {
    problems.push_back({pointer_to(place, trouble->at), trouble->words});
    return {};
  }
  return map.own();
}

std::string find_folder(const char* variable, const char* below_home) {
  const char* const given = std::getenv(variable);
  if (given != nullptr && given[0] == '/') return std::string{given} + "/redress";
  const char* const home = std::getenv("HOME");
  if (home == nullptr || home[0] != '/') return "";
  return std::string{home} + below_home + "/redress";
}

std::string describe(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += "; ";
    if (!problem.place.empty()) text += problem.place + ": ";
    text += problem.message;
  }
  return text;
}

}  // namespace

const Calibration* Preferences::find_calibration(const std::string& screen, int width_px,
                                                 int height_px) const {
  for (const Calibration& each : calibrations) {
    if (each.screen == screen && each.width_px == width_px && each.height_px == height_px) {
      return &each;
    }
  }
  return nullptr;
}

void Preferences::set_calibration(const Calibration& measured) {
  std::erase_if(calibrations, [&](const Calibration& each) {
    return each.screen == measured.screen && each.width_px == measured.width_px &&
           each.height_px == measured.height_px;
  });
  calibrations.push_back(measured);
}

Result<Preferences> parse_preferences(const std::string& text) {
  const Result<nlohmann::json> json = parse_json(text);
  if (!json.ok()) return json.problems();
  Problems problems;
  ObjectReader reader(json.value(), "", problems);
  if (reader.required_string("format", 100).value_or(kFormat) != kFormat) {
    reader.report("format", std::string{"this is not a "} + kFormat + " file");
  }
  const std::int64_t version = reader.required_integer("version", 1, 1'000'000).value_or(1);
  if (version > kVersion) {
    return Problems{{"/version", "it was written by a newer version (" + std::to_string(version) +
                                     "; this one reads 1)"}};
  }
  Preferences p;
  p.first_run_done = reader.boolean("first_run_done", p.first_run_done);
  p.role = reader.enumerated("role", kRoles, p.role);
  p.name = reader.string("name", 80);
  p.mouse_hand = reader.enumerated("mouse_hand", kHands, p.mouse_hand);
  p.shorthand = reader.enumerated("shorthand", kTraditions, p.shorthand);
  p.department = reader.string("department", 400);
  p.room_is_dim = reader.boolean("room_is_dim", p.room_is_dim);
  p.text_scale = reader.number("text_scale", 1, 2, p.text_scale);
  p.eye_distance_cm = reader.number("eye_distance_cm", 20, 200, p.eye_distance_cm);
  p.motion_ms = static_cast<std::int32_t>(reader.integer("motion_ms", 120, 800, p.motion_ms));
  p.one_key_at_a_time = reader.boolean("one_key_at_a_time", p.one_key_at_a_time);
  p.click_holds = reader.boolean("click_holds", p.click_holds);
  // Files of before the modes say whether there is a coach.
  const bool coach = reader.boolean("coach", true);
  p.mode = reader.enumerated("mode", kModeNames, coach ? Mode::guided : Mode::free);
  p.cases_folder = reader.string("cases_folder", 4096);
  p.keys = read_own_keys(reader, problems);
  if (const nlohmann::json* list = reader.array("calibrations", 0, 100)) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      p.calibrations.push_back(
          read_calibration((*list)[i], pointer_to(reader.place_of("calibrations"), i), problems));
    }
  }
  reader.finish();
  if (!problems.empty()) return problems;
  return p;
}

std::string format_preferences(const Preferences& p) {
  nlohmann::json json;
  json["format"] = kFormat;
  json["version"] = kVersion;
  json["first_run_done"] = p.first_run_done;
  json["role"] = find_name(kRoles, p.role);
  json["name"] = p.name;
  json["mouse_hand"] = find_name(kHands, p.mouse_hand);
  json["shorthand"] = find_name(kTraditions, p.shorthand);
  json["department"] = p.department;
  json["room_is_dim"] = p.room_is_dim;
  json["text_scale"] = to_json_number(p.text_scale);
  json["eye_distance_cm"] = to_json_number(p.eye_distance_cm);
  json["motion_ms"] = p.motion_ms;
  json["one_key_at_a_time"] = p.one_key_at_a_time;
  json["click_holds"] = p.click_holds;
  json["mode"] = find_name(kModeNames, p.mode);
  json["cases_folder"] = p.cases_folder;
  json["keys"] = nlohmann::json::array();
  for (const screens::examine::OwnKey& own : p.keys) {
    json["keys"].push_back({{"does", own.does},
                            {"usage", own.chord.key},
                            {"shift", own.chord.modifiers.shift},
                            {"control", own.chord.modifiers.control}});
  }
  json["calibrations"] = nlohmann::json::array();
  for (const Calibration& each : p.calibrations) {
    json["calibrations"].push_back({{"screen", each.screen},
                                    {"width_px", each.width_px},
                                    {"height_px", each.height_px},
                                    {"pixels_per_mm", to_json_number(each.pixels_per_mm)},
                                    {"measured_on", each.measured_on}});
  }
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

std::string find_config_folder() { return find_folder("XDG_CONFIG_HOME", "/.config"); }
std::string find_data_folder() { return find_folder("XDG_DATA_HOME", "/.local/share"); }

LoadedPreferences load_preferences(const std::string& folder) {
  LoadedPreferences loaded;
  if (folder.empty()) {
    loaded.writable = false;
    loaded.trouble = "There is no home folder; what you choose is forgotten at the end.";
    return loaded;
  }
  const std::string path = folder + "/" + kFile;
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) return loaded;
  constexpr std::size_t kLargest = 1024 * 1024;
  const Result<std::string> text = read_file(path, kLargest);
  Result<Preferences> parsed =
      text.ok() ? parse_preferences(text.value()) : Result<Preferences>{text.problems()};
  if (parsed.ok()) {
    loaded.preferences = std::move(parsed).value();
    return loaded;
  }
  loaded.writable = false;
  loaded.trouble =
      "Your preferences cannot be read and were left untouched: " + describe(parsed.problems());
  return loaded;
}

std::string save_preferences(const std::string& folder, const Preferences& preferences) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) return "Your preferences cannot be kept: " + error.message();
  const auto problem = write_whole_file(folder + "/" + kFile, format_preferences(preferences));
  return problem ? "Your preferences cannot be kept: " + problem->message : std::string{};
}

}  // namespace redress::app
