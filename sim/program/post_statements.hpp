// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Statements to a learning record store over HTTPS, by the rules of IEEE 9274.1.1 (xAPI 2.0): sent
// in batches, again after a fault that may pass, and there exactly once, since each has an id of
// its own and a store takes no id twice. Off unless an address is given. libcurl is loaded at the
// first use.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>

#include <nlohmann/json.hpp>

#include "sim/basics/problem.hpp"

namespace redress::program {

struct RecordStore {
  std::string address;    ///< https://..., without /statements; http:// for this machine alone
  std::string login;      ///< "name:password"; empty: none
  std::string authority;  ///< file of certificates to trust; empty: the system's
};

struct Posted {
  std::size_t taken = 0;          ///< by this run
  std::size_t already_there = 0;  ///< from a run before, or after an answer that was lost
  std::size_t requests = 0;
};

/// Called between two tries with the seconds to wait: 1, 2, 4 ... 60.
using Wait = std::function<void(std::int64_t seconds)>;

/// A list of statements with ids. Problems: an address that is not allowed, what the store refuses
/// and why, a store that could not be reached in eight tries; and how many it has. To be called
/// again then: nothing comes to be there twice.
Result<Posted> post_statements(const nlohmann::ordered_json& statements, const RecordStore& store,
                               const Wait& wait);

}  // namespace redress::program
