// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where results come together: one SQLite file, or a department's PostgreSQL server; the same
// statements for both, through SOCI. What a workstation kept is handed in whole and counts once,
// however often it is sent. Nothing is ever changed or removed. A store that fails in mid-write has
// nothing of that hand-in, and says why.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/kept_station.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

/// One kept station on its way in.
struct HandIn {
  std::string content;  ///< the file's bytes (sim/assessment/kept_station.hpp)
  std::string at;       ///< when, as the caller's clock says; kept as it is
};

/// How many of a hand-in were new and how many had been there.
struct Received {
  std::size_t added = 0;
  std::size_t already_there = 0;
  std::vector<bool> is_new;  ///< each, in their order
};

struct StoredStation {
  std::string id;  ///< 64 digits: BLAKE2b-256 of the content
  std::string circuit;
  std::string candidate;
  std::size_t station = 0;
  std::string workstation;
  bool whole = false;  ///< false: cut short when it was handed in
  Tick used_ms = 0;
  std::string at;
};

struct StoredScore {
  std::string id;
  double total = 0.0;
  bool unsafe = false;
  std::string sheet;  ///< JSON (sim/scoring/score.hpp)
};

/// Called before each statement with its text; may throw, as a server that is gone would. Tests.
using StatementHook = std::function<void(std::string_view)>;

class Store {
 public:
  /// `where`: a file, made if it is not there, or postgresql://... Brings the tables up to date.
  /// Problems: cannot be reached; was made by a newer version (then it is left as it is).
  static Result<Store> open(const std::string& where, StatementHook hook = {});
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// All of them or none. Refuses what is altered, by its number; what was cut short is taken.
  Result<Received> hand_in(std::span<const HandIn> stations);
  /// By circuit (its text), in order of candidate, station, id.
  Result<std::vector<StoredStation>> list(const std::string& circuit);
  Result<std::string> read_content(const std::string& id);
  /// The same score again is no fault; another one for the same station is.
  std::optional<Problem> put_scores(std::span<const StoredScore> scores);
  Result<std::vector<StoredScore>> list_scores(const std::string& circuit);

 private:
  struct Inside;
  explicit Store(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// Stations of one candidate that were handed in more than once with different content: two
/// workstations with one identity, or a copy that went on. Pairs of ids, for a person to decide.
std::vector<std::pair<std::string, std::string>> find_doubles(
    std::span<const StoredStation> stations);

}  // namespace redress::assessment
