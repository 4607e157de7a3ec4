// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases drawn, taken in, handed on, and which folder is the user's own. Drawing goes on on another
// thread and can be stopped; the same functions do it as behind `redress generate`, `pack` and
// `unpack`.
#pragma once

#include <atomic>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/cases/cases.hpp"
#include "render/screens/cases/supply.hpp"
#include "sim/program/pack_files.hpp"

namespace redress::app {

struct SupplyingOutcome {
  bool leave = false;
  std::optional<std::string> folder;  ///< is the user's own from now on; empty: the usual one
};

class Supplying {
 public:
  /// `shown`: what search and filters left on the page of cases.
  Supplying(std::string own_folder, std::vector<screens::CaseRow> shown);
  ~Supplying();

  /// Takes what was drawn. True: something is to be drawn again.
  bool advance();
  /// For tests: until nothing is drawn any more.
  void wait();
  [[nodiscard]] bool is_working() const { return drawing_.valid(); }
  SupplyingOutcome draw(screens::Ui& ui, const screens::WindowSize& window);

  [[nodiscard]] const screens::SupplyModel& model() const { return model_; }
  screens::SupplyModel& edit() { return model_; }
  void use(std::string own_folder) { model_.own_folder = std::move(own_folder); }

 private:
  struct Drawn {
    std::vector<program::NamedText> files;
    std::vector<screens::SupplyRow> rows;
    Problems problems;
  };
  static Drawn draw_cases(const std::string& diagnosis, double difficulty, std::uint64_t seed,
                          int count, const std::shared_ptr<std::atomic<int>>& drawn,
                          const std::shared_ptr<std::atomic<bool>>& wanted);
  void go_to(screens::SupplyPart part);
  void begin_drawing();
  void look_into_pack();
  void put();
  void hand_on();
  void list_folder();
  void tell(const Problems& problems);

  screens::SupplyModel model_;
  std::vector<screens::CaseRow> shown_;
  std::vector<program::NamedText> files_;  // of the rows
  std::shared_ptr<std::atomic<int>> drawn_;
  std::shared_ptr<std::atomic<bool>> wanted_;
  std::future<Drawn> drawing_;
};

}  // namespace redress::app
