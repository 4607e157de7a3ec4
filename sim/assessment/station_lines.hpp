// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The signed lines of sim/assessment/kept_station.hpp, for its writer and its reader. What is
// signed is digest = hash(chain before, body); chain after = hash(digest, signature). The hash is
// in sim/basics/content_hash.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <sodium.h>
#include <nlohmann/json.hpp>

#include "sim/assessment/keys.hpp"

namespace redress::assessment {

/// `object` as text, "{...}", not empty; returns the line with its LF. `chain` is of all lines
/// before, empty before the first, and becomes this one's.
std::string make_signed_line(std::string_view object, const SigningKey& key, std::string& chain);

struct SignedLine {
  std::string_view body;  ///< bytes before `,"signature":"`
  std::string_view signature;
};
/// Of a line without LF; nothing if it does not end as it should.
std::optional<SignedLine> find_signature(std::string_view line);
/// Whether the key signed this line after those lines. Then every byte of them is as it was when
/// it did.
bool fits(const SignedLine& line, const PublicKey& key, std::string_view chain);
/// The chain after this line.
std::string calc_next_chain(const SignedLine& line, std::string_view chain);

/// One run of encrypted messages: opened by the key that is sealed in `secret`.
struct StreamSecret {
  std::string secret;  ///< hexadecimal, sealed to the circuit
  std::string header;  ///< hexadecimal
};

class KeptStream {
 public:
  /// New, with what a reader needs to open it.
  static std::pair<KeptStream, StreamSecret> make(const CircuitId& circuit);
  /// Nothing if it was not sealed to this circuit.
  static std::optional<KeptStream> open(const CircuitKeys& circuit, const StreamSecret& secret);

  /// Base64.
  std::string push(std::string_view plain);
  /// Nothing if it is not the next message.
  std::optional<std::string> pull(std::string_view base64);

 private:
  KeptStream();
  LockedBytes state_;  // of crypto_secretstream
};

}  // namespace redress::assessment
