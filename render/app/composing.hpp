// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit being composed: what is changed can be taken back, the engine tries each station on
// another thread as it stands, and the whole is saved as a circuit file and sealed. What is not
// saved yet lies in a draft beside the circuits and is there again next time.
#pragma once

#include <future>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "render/app/rehearsing.hpp"
#include "render/screens/assessment/compose_page.hpp"
#include "sim/assessment/check_circuit.hpp"
#include "sim/assessment/form.hpp"

namespace redress::app {

struct ComposingOptions {
  std::vector<std::string> found;  ///< files of which those that are circuits can be opened
  std::string own_folder;          ///< where a new one is saved
  std::string sealed_folder;
  bool is_played = false;  ///< tests: no frame passes while the engine works
};

struct ComposingOutcome {
  bool leave = false;
  std::optional<std::size_t> tab;
  bool acted = false;  ///< something else is to be shown next
};

class Composing {
 public:
  explicit Composing(ComposingOptions options);
  ~Composing();
  Composing(const Composing&) = delete;
  Composing& operator=(const Composing&) = delete;

  /// Takes what the engine found and begins the next.
  void advance();
  ComposingOutcome draw(screens::Ui& ui, const screens::WindowSize& window);
  [[nodiscard]] bool is_live() const {
    return trying_.valid() || sealing_.valid() || rehearsing_.is_running();
  }
  /// Waits for all that is being tried (tests, pictures).
  void wait();

 private:
  /// A station as the engine tried it.
  struct Tried {
    std::string key;
    Problems problems;
    assessment::StationCheck check;
    assessment::StationCondition condition;
    PreparedStation prepared;  ///< for a rehearsal
  };

  /// A circuit with its file, to take back what was done to it.
  struct Before {
    assessment::Circuit circuit;
    std::string path, folder;
  };

  void find_circuits();
  void open(const std::string& path);
  void begin_fresh();
  bool take_draft();
  void keep_draft();
  [[nodiscard]] std::string draft_path() const;
  void push_before();
  void change(assessment::Circuit circuit);
  void undo();
  void save();
  void seal();
  void take_tried(Tried tried);
  void try_next();
  void fill();
  void remedy(std::size_t remark);
  void rehearse();
  void take_rehearsed(std::optional<Rehearsed> rehearsed);
  void write_rehearsal();

  ComposingOptions options_;
  std::string folder_;  // that case files are named from
  std::vector<Before> before_;
  bool drafted_ = false;  // the draft is of the circuit that is open
  std::future<Tried> trying_;
  std::map<std::string, Tried> tried_;  // by what the station is
  std::future<Result<std::string>> sealing_;
  Rehearsing rehearsing_;
  screens::assessment::RehearsalWish rehearsed_wish_;
  std::string rehearsing_of_, rehearsed_of_;  // the circuit, as JSON
  std::optional<Rehearsed> rehearsed_;
  assessment::CircuitCheck check_;
  std::vector<std::size_t> concerns_;  // of check_, as the remarks show them
  screens::assessment::ComposeModel model_;
};

}  // namespace redress::app
