// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// After the day, for an assessor: the store is opened and scored, stations are watched, rated
// before their marks are seen and overruled with reasons, reports are written. What the assessor
// signs goes into a ledger of this sitting (sim/assessment/marks.hpp).
#pragma once

#include <cstdint>
#include <future>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "render/app/case_shelf.hpp"
#include "render/app/circuit_opening.hpp"
#include "render/app/take_in.hpp"
#include "render/screens/assessment/results_pages.hpp"
#include "render/screens/debrief/debrief_model.hpp"
#include "sim/assessment/marks.hpp"
#include "sim/assessment/score_store.hpp"
#include "sim/assessment/store.hpp"

namespace redress::app {

struct MarkingOptions {
  std::string sealed_path;
  std::string store;
  std::string assessor;
  std::string marks_folder;
  std::string kept_folder;  ///< what workstations kept: taken into the store when it is opened
  bool is_played = false;   ///< tests: no frame passes while something is computed
};

/// One station's record, to be watched in the debrief.
struct Watched {
  ShelvedCase shelved;
  std::string record;
  bool blind = true;  ///< its marks are not to be seen yet
  screens::debrief::CountedBy counted;
};

struct MarkingOutcome {
  bool leave = false;
  std::optional<std::size_t> tab;  ///< of the assessment's pages
  std::optional<Watched> watch;
  bool acted = false;  ///< something else is to be shown next
};

class Marking {
 public:
  explicit Marking(MarkingOptions options);
  ~Marking();
  Marking(const Marking&) = delete;
  Marking& operator=(const Marking&) = delete;

  void advance(double now_ms);
  MarkingOutcome draw(screens::Ui& ui, const screens::WindowSize& window);
  /// Given in the replay, 0 fail ... 4 excellent.
  void rate(std::size_t rating);
  [[nodiscard]] bool is_live() const { return opening_.is_live(now_ms_) || scoring_.valid(); }

 private:
  enum class Step : std::uint8_t { opening, scoring, list, station };
  struct Scored {
    std::optional<assessment::Store> store;
    TakenIn taken;
    Result<assessment::ScoredStore> stations;
  };

  void begin_scoring();
  void take_scored(Scored scored);
  void read_ledgers();
  void fill_list();
  void open_station(std::size_t row, std::size_t column);
  void fill_station();
  void sign(const std::string& line);
  void overrule();
  [[nodiscard]] std::optional<Watched> watch();
  void write_reports(const screens::assessment::ResultsOutcome& wanted);
  /// Of one row, or of all.
  void release(std::optional<std::size_t> row);
  [[nodiscard]] const assessment::ScoredStation* find(const std::string& candidate,
                                                      std::size_t station) const;
  [[nodiscard]] std::string my_rating(const std::string& candidate, std::size_t station) const;
  [[nodiscard]] bool is_seen(const std::string& candidate, std::size_t station) const;

  MarkingOptions options_;
  Step step_ = Step::opening;
  double now_ms_ = 0;
  CircuitOpening opening_;
  std::shared_ptr<const assessment::OpenedCircuit> circuit_;
  std::future<Scored> scoring_;
  std::optional<assessment::Store> store_;
  std::vector<assessment::ScoredStation> stations_;

  std::optional<assessment::WorkstationKey> key_;
  std::string ledger_path_;
  std::string ledger_text_;
  std::string ledger_chain_;
  std::vector<assessment::Ledger> ledgers_;
  std::set<std::pair<std::string, std::size_t>> seen_;

  std::vector<std::size_t> columns_;  // stations of the circuit
  std::vector<std::string> candidates_;
  std::string candidate_;  // whose station is open
  std::size_t number_ = 0;

  screens::assessment::ResultsOpeningModel opening_model_;
  screens::assessment::ResultsModel list_;
  screens::assessment::StationMarksModel station_;
  screens::assessment::PageState page_;
};

}  // namespace redress::app
