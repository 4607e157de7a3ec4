// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a user chose once: who, which hand, theme, text size, how large this screen is. A small JSON
// file in the user's own folder; an unreadable one is left untouched and the program goes on with
// what is usual.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/app/mode.hpp"
#include "render/screens/examine/key_map.hpp"
#include "sim/basics/problem.hpp"

namespace redress::app {

enum class Role : std::uint8_t { learning, teaching, examining };
enum class MouseHand : std::uint8_t { right, left, none };
/// In the order of findings::Tradition.
enum class Tradition : std::uint8_t { uk, us, hospital };

/// How large one screen is.
struct Calibration {
  std::string screen;  ///< its name
  int width_px = 0;    ///< of its desktop
  int height_px = 0;
  double pixels_per_mm = 0;
  std::string measured_on;  ///< date, "2026-11-24"
  bool operator==(const Calibration&) const = default;
};

struct Preferences {
  bool first_run_done = false;
  Role role = Role::learning;
  std::string name;
  MouseHand mouse_hand = MouseHand::right;
  Tradition shorthand = Tradition::uk;
  std::string department;  ///< title of the one whose code the card shows; empty: none
  bool room_is_dim = true;
  double text_scale = 1;           ///< 1, 1.25, 1.5, 2
  double eye_distance_cm = 60;     ///< 20 ... 200
  std::int32_t motion_ms = 220;    ///< of a key's motion, 120 ... 800
  bool one_key_at_a_time = false;  ///< Shift and Ctrl wait for the next key
  bool click_holds = false;        ///< one click takes the occluder, another lets it go
  Mode mode = Mode::guided;
  std::string cases_folder;  ///< of the user's own cases; empty: in the usual place
  std::vector<screens::examine::OwnKey> keys;  ///< that do not lie where they usually do
  std::vector<Calibration> calibrations;
  bool operator==(const Preferences&) const = default;

  /// None: the size on this screen is not known.
  [[nodiscard]] const Calibration* find_calibration(const std::string& screen, int width_px,
                                                    int height_px) const;
  void set_calibration(const Calibration& measured);
};

/// Values out of range are problems, unknown keys are kept out.
Result<Preferences> parse_preferences(const std::string& text);
std::string format_preferences(const Preferences& preferences);

/// Where this user's things are kept: XDG_CONFIG_HOME/redress and XDG_DATA_HOME/redress, or the
/// usual places below HOME; empty if there is no home.
std::string find_config_folder();
std::string find_data_folder();

struct LoadedPreferences {
  Preferences preferences;
  std::string trouble;   ///< for the user; empty: none
  bool writable = true;  ///< false: the file there is of a newer version and is left alone
};
LoadedPreferences load_preferences(const std::string& folder);
/// Whole or not at all. The text is for the user; empty: saved.
std::string save_preferences(const std::string& folder, const Preferences& preferences);

}  // namespace redress::app
