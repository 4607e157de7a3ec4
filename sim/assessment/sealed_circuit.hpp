// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit under a passphrase: one file with the circuit, all its patients and its keys. It is
// opened into memory only. Layout: one line of JSON (who it is, how the passphrase is stretched),
// LF, one message of libsodium's secretstream (XChaCha20-Poly1305) that answers for that line too,
// 32 bytes BLAKE2b of all before, by which damage is told from a wrong passphrase without secrets.
// The key is the passphrase through Argon2id.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/form.hpp"
#include "sim/assessment/keys.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

inline constexpr std::string_view kSealedFormat = "redress-sealed";
inline constexpr int kSealedVersion = 1;
inline constexpr std::size_t kShortestPassphrase = 12;  ///< bytes

/// What trying one passphrase costs. The default takes about a second and 256 MiB
/// (crypto_pwhash_OPSLIMIT_MODERATE); tests take the least.
struct StretchCost {
  std::uint64_t operations = 3;
  std::size_t memory_bytes = std::size_t{256} << 20;
};
inline constexpr StretchCost kLeastCost{1, 8192};

struct OpenedCircuit {
  Circuit circuit;
  std::vector<std::vector<Form>> forms;  ///< by station; rests have none
  CircuitKeys keys;
  std::string engine;  ///< version that sealed it
};

/// New keys are made for it. `forms` by station. Problem: the passphrase is too short.
Result<std::string> seal_circuit(const Circuit& circuit,
                                 const std::vector<std::vector<Form>>& forms,
                                 std::string_view passphrase, const StretchCost& cost = {});

/// A wrong passphrase and a forged file give the same answer, which says nothing more; a file that
/// was damaged is told without a passphrase. `passphrase` should be in LockedBytes.
Result<OpenedCircuit> open_circuit(std::string_view sealed, std::string_view passphrase);

/// Whose file it is, without opening it.
Result<CircuitId> read_circuit_id(std::string_view sealed);
bool is_sealed_circuit(std::string_view text);

/// What differs now from what was sealed: circuit and cases, as Problems with their places.
Problems find_changes(const OpenedCircuit& opened, const Circuit& now,
                      const FindPatient& find_patient);

/// Seconds to wait after so many wrong passphrases: 1, 2, 4 ... 60.
std::int64_t calc_wait_s(int failures);

}  // namespace redress::assessment
