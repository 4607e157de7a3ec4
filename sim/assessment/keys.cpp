// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/keys.hpp"

#include <sodium.h>

#include <cstring>
#include <new>
#include <utility>
#include <vector>

namespace redress::assessment {

namespace {

static_assert(kKeyBytes == crypto_sign_SEEDBYTES && kKeyBytes == crypto_sign_PUBLICKEYBYTES);
static_assert(kKeyBytes == crypto_box_PUBLICKEYBYTES && kKeyBytes == crypto_box_SECRETKEYBYTES);
static_assert(kKeyBytes == crypto_kdf_KEYBYTES && kSignatureBytes == crypto_sign_BYTES);

constexpr char kContext[crypto_kdf_CONTEXTBYTES + 1] = "redress1";
constexpr std::uint64_t kSigningPart = 1;
constexpr std::uint64_t kBoxPart = 2;

LockedBytes make_random(std::size_t size) {
  LockedBytes bytes(size);
  randombytes_buf(bytes.data(), bytes.size());
  return bytes;
}

LockedBytes derive(const LockedBytes& seed, std::uint64_t part) {
  LockedBytes derived(kKeyBytes);
  crypto_kdf_derive_from_key(derived.data(), derived.size(), part, kContext, seed.data());
  return derived;
}

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

std::string certified_text(const CircuitId& circuit, std::string_view workstation,
                           const PublicKey& key) {
  return "redress workstation 1\n" + to_text(circuit) + "\n" + to_hex_text(key) + "\n" +
         std::string(workstation);
}

}  // namespace

SigningKey::SigningKey()
    : SigningKey([] {
        const LockedBytes seed = make_random(kKeyBytes);
        return SigningKey(std::span(seed.data(), seed.size()));
      }()) {}

SigningKey::SigningKey(std::span<const unsigned char> seed) : secret_(crypto_sign_SECRETKEYBYTES) {
  if (seed.size() != kKeyBytes) throw std::bad_alloc();
  crypto_sign_seed_keypair(public_.data(), secret_.data(), seed.data());
}

std::string SigningKey::sign(std::string_view message) const {
  std::array<unsigned char, kSignatureBytes> signature{};
  crypto_sign_detached(signature.data(), nullptr, bytes_of(message), message.size(),
                       secret_.data());
  return to_hex_text(signature);
}

bool verifies(const PublicKey& key, std::string_view message, std::string_view signature) {
  std::array<unsigned char, kSignatureBytes> bytes{};
  return from_hex_text(signature, bytes) &&
         crypto_sign_verify_detached(bytes.data(), bytes_of(message), message.size(), key.data()) ==
             0;
}

std::string to_text(const CircuitId& id) { return to_hex_text(id.sign) + to_hex_text(id.box); }

std::optional<CircuitId> parse_circuit_id(std::string_view text) {
  CircuitId id;
  if (text.size() != 4 * kKeyBytes || !from_hex_text(text.substr(0, 2 * kKeyBytes), id.sign) ||
      !from_hex_text(text.substr(2 * kKeyBytes), id.box)) {
    return std::nullopt;
  }
  return id;
}

std::string to_short_text(const CircuitId& id) {
  const std::string text = to_text(id);
  return text.substr(0, 4) + " " + text.substr(4, 4) + " " + text.substr(8, 4);
}

CircuitKeys::CircuitKeys() : CircuitKeys(make_random(kKeyBytes)) {}

CircuitKeys::CircuitKeys(LockedBytes seed)
    : seed_(std::move(seed)),
      signing_([this] {
        const LockedBytes part = derive(seed_, kSigningPart);
        return SigningKey(std::span(part.data(), part.size()));
      }()),
      box_secret_(kKeyBytes) {
  const LockedBytes part = derive(seed_, kBoxPart);
  crypto_box_seed_keypair(id_.box.data(), box_secret_.data(), part.data());
  id_.sign = signing_.public_key();
}

std::optional<LockedBytes> CircuitKeys::open(std::span<const unsigned char> sealed) const {
  if (sealed.size() < crypto_box_SEALBYTES) return std::nullopt;
  LockedBytes secret(sealed.size() - crypto_box_SEALBYTES);
  if (crypto_box_seal_open(secret.data(), sealed.data(), sealed.size(), id_.box.data(),
                           box_secret_.data()) != 0) {
    return std::nullopt;
  }
  return secret;
}

std::string seal_to(const CircuitId& id, std::span<const unsigned char> secret) {
  std::vector<unsigned char> sealed(secret.size() + crypto_box_SEALBYTES);
  if (sodium_init() < 0 ||
      crypto_box_seal(sealed.data(), secret.data(), secret.size(), id.box.data()) != 0) {
    throw std::bad_alloc();
  }
  return to_hex_text(sealed);
}

WorkstationKey make_workstation_key(const CircuitKeys& circuit, std::string workstation) {
  WorkstationKey made{std::move(workstation), SigningKey(), {}};
  made.certificate =
      circuit.signing().sign(certified_text(circuit.id(), made.workstation, made.key.public_key()));
  return made;
}

bool is_certified(const CircuitId& circuit, std::string_view workstation, const PublicKey& key,
                  std::string_view certificate) {
  return verifies(circuit.sign, certified_text(circuit, workstation, key), certificate);
}

}  // namespace redress::assessment
