// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where each act of the room lies on the keyboard of this person: the usual places, mirrored for a
// mouse in the left hand, and what they re-assigned. No key ever does two things. A plain value.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/examine/keys.hpp"

namespace redress::screens::examine {

/// A key with what is held beside it.
struct Chord {
  Scancode key = 0;
  Modifiers modifiers;
  bool operator==(const Chord&) const = default;
};

/// An act that does not lie where it usually does; the chord as for a mouse in the right hand.
struct OwnKey {
  std::string does;  ///< KeyBinding::words
  Chord chord;
  bool operator==(const OwnKey&) const = default;
};

/// Why an act cannot be put on a key.
struct KeyRefusal {
  enum class Why : std::uint8_t {
    reserved,     ///< Esc and Tab lead about; a key without a name cannot be shown
    taken,        ///< another act lies there
    taken_slow,   ///< with Shift, that act is done slowly there
    shift_slows,  ///< this act is done slowly with Shift: its key stands without it
  };
  Why why = Why::reserved;
  std::size_t by = 0;  ///< the other act
};

class KeyMap {
 public:
  KeyMap() : KeyMap(false) {}
  explicit KeyMap(bool mirrored);

  void set_mirrored(bool mirrored) { mirrored_ = mirrored; }
  [[nodiscard]] bool mirrored() const { return mirrored_; }

  /// What the key orders; nothing if it has nothing to do here. With Shift, the keys that move the
  /// occluder move it slowly: they are found without their modifier.
  [[nodiscard]] std::optional<Order> find_order(const Chord& pressed) const;
  /// The act that lies there, as an index of room_keys().
  [[nodiscard]] std::optional<std::size_t> find_act(const Chord& pressed) const;
  /// Where an act lies, for the hand in force.
  [[nodiscard]] Chord chord_of(std::size_t act) const;

  /// Why the act cannot lie there; nothing: it can.
  [[nodiscard]] std::optional<KeyRefusal> find_refusal(std::size_t act, const Chord& wanted) const;
  /// Puts it there, unless it is refused.
  std::optional<KeyRefusal> assign(std::size_t act, const Chord& wanted);
  void use_usual();
  [[nodiscard]] bool is_usual(std::size_t act) const;
  [[nodiscard]] bool is_usual() const;

  [[nodiscard]] std::vector<OwnKey> own() const;
  /// All at once, so that two acts can change places. The words say which of them cannot be, and
  /// why; then nothing is changed. The number is the place in the list.
  struct Trouble {
    std::size_t at = 0;
    std::string words;
  };
  std::optional<Trouble> use(const std::vector<OwnKey>& own);

  bool operator==(const KeyMap&) const = default;

 private:
  [[nodiscard]] std::size_t find_own(std::size_t act) const;
  [[nodiscard]] std::optional<std::size_t> find_other(std::size_t act, const Chord& place) const;
  [[nodiscard]] std::optional<KeyRefusal> find_clash(std::size_t act, const Chord& wanted) const;

  bool mirrored_ = false;
  std::vector<Chord> places_;  // of each act, as for a mouse in the right hand
};

/// Acts that another key cannot take: they lead back.
[[nodiscard]] bool is_fixed(std::size_t act);
[[nodiscard]] bool is_slowed_by_shift(Command command);

}  // namespace redress::screens::examine
