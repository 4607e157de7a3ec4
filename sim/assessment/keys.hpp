// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Who vouches for what. A circuit has keys of its own, made when it is sealed: its secrets are in
// the sealed file, its public halves are its identity. A workstation that has the circuit open
// makes a pair for itself, and the circuit signs it: the certificate. Ed25519 for signatures,
// X25519 for what only the circuit's holder may read (libsodium).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "sim/assessment/locked_bytes.hpp"

namespace redress::assessment {

inline constexpr std::size_t kKeyBytes = 32;
inline constexpr std::size_t kSignatureBytes = 64;
inline constexpr std::size_t kSignatureDigits = 2 * kSignatureBytes;

using PublicKey = std::array<unsigned char, kKeyBytes>;

/// A pair for signatures; the secret half never leaves it.
class SigningKey {
 public:
  /// A new pair.
  SigningKey();
  /// The pair of a seed of kKeyBytes.
  explicit SigningKey(std::span<const unsigned char> seed);

  [[nodiscard]] const PublicKey& public_key() const { return public_; }
  /// kSignatureDigits lower-case hexadecimal digits.
  [[nodiscard]] std::string sign(std::string_view message) const;

 private:
  LockedBytes secret_;
  PublicKey public_{};
};

/// `signature` as sign() writes it; anything else does not verify.
bool verifies(const PublicKey& key, std::string_view message, std::string_view signature);

/// The public identity of a sealed circuit.
struct CircuitId {
  PublicKey sign{};
  PublicKey box{};
  bool operator==(const CircuitId&) const = default;
};
/// 128 hexadecimal digits.
std::string to_text(const CircuitId& id);
std::optional<CircuitId> parse_circuit_id(std::string_view text);
/// Twelve digits in three groups, for people: "5c1e 90af 22d7".
std::string to_short_text(const CircuitId& id);

class CircuitKeys {
 public:
  /// New ones.
  CircuitKeys();
  /// Those of a seed of kKeyBytes.
  explicit CircuitKeys(LockedBytes seed);

  [[nodiscard]] const CircuitId& id() const { return id_; }
  [[nodiscard]] const SigningKey& signing() const { return signing_; }
  [[nodiscard]] const LockedBytes& seed() const { return seed_; }
  /// Opens what was sealed to id().box (crypto_box_seal); nothing if it was not.
  [[nodiscard]] std::optional<LockedBytes> open(std::span<const unsigned char> sealed) const;

 private:
  LockedBytes seed_;
  SigningKey signing_;
  LockedBytes box_secret_;
  CircuitId id_;
};

/// Only the circuit's holder can open it.
std::string seal_to(const CircuitId& id, std::span<const unsigned char> secret);

struct WorkstationKey {
  std::string workstation;
  SigningKey key;
  std::string certificate;  ///< the circuit's signature of workstation and public key
};
/// For the time that the circuit is open: it is never written down.
WorkstationKey make_workstation_key(const CircuitKeys& circuit, std::string workstation);
bool is_certified(const CircuitId& circuit, std::string_view workstation, const PublicKey& key,
                  std::string_view certificate);

}  // namespace redress::assessment
