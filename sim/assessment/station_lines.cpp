// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/station_lines.hpp"

#include <array>
#include <new>
#include <span>
#include <vector>

#include "sim/basics/content_hash.hpp"

namespace redress::assessment {

namespace {

constexpr std::string_view kOpening = ",\"signature\":\"";
constexpr std::string_view kClosing = "\"}";
constexpr std::size_t kOver = crypto_secretstream_xchacha20poly1305_ABYTES;
constexpr int kBase64 = sodium_base64_VARIANT_ORIGINAL;

using State = crypto_secretstream_xchacha20poly1305_state;
using Header = std::array<unsigned char, crypto_secretstream_xchacha20poly1305_HEADERBYTES>;

State* state_of(LockedBytes& bytes) { return reinterpret_cast<State*>(bytes.data()); }
const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

}  // namespace

std::string make_signed_line(std::string_view object, const SigningKey& key, std::string& chain) {
  const std::string_view body = object.substr(0, object.size() - 1);
  const std::string digest = calc_hash(chain, body);
  const std::string signature = key.sign(digest);
  chain = calc_hash(digest, signature);
  std::string line(body);
  line.append(kOpening).append(signature).append(kClosing).push_back('\n');
  return line;
}

std::optional<SignedLine> find_signature(std::string_view line) {
  constexpr std::size_t kTail = kOpening.size() + kSignatureDigits + kClosing.size();
  if (line.size() <= kTail) return std::nullopt;
  const std::size_t body = line.size() - kTail;
  if (line.substr(body, kOpening.size()) != kOpening || !line.ends_with(kClosing)) {
    return std::nullopt;
  }
  return SignedLine{line.substr(0, body), line.substr(body + kOpening.size(), kSignatureDigits)};
}

bool fits(const SignedLine& line, const PublicKey& key, std::string_view chain) {
  return verifies(key, calc_hash(chain, line.body), line.signature);
}

std::string calc_next_chain(const SignedLine& line, std::string_view chain) {
  return calc_hash(calc_hash(chain, line.body), line.signature);
}

KeptStream::KeptStream() : state_(sizeof(State)) {}

std::pair<KeptStream, StreamSecret> KeptStream::make(const CircuitId& circuit) {
  KeptStream stream;
  LockedBytes key(crypto_secretstream_xchacha20poly1305_KEYBYTES);
  crypto_secretstream_xchacha20poly1305_keygen(key.data());
  Header header{};
  crypto_secretstream_xchacha20poly1305_init_push(state_of(stream.state_), header.data(),
                                                  key.data());
  StreamSecret secret{seal_to(circuit, std::span(key.data(), key.size())), to_hex_text(header)};
  return {std::move(stream), std::move(secret)};
}

std::optional<KeptStream> KeptStream::open(const CircuitKeys& circuit, const StreamSecret& secret) {
  std::vector<unsigned char> sealed(secret.secret.size() / 2);
  Header header{};
  if (!from_hex_text(secret.secret, sealed) || !from_hex_text(secret.header, header)) {
    return std::nullopt;
  }
  const std::optional<LockedBytes> key = circuit.open(sealed);
  if (!key || key->size() != crypto_secretstream_xchacha20poly1305_KEYBYTES) return std::nullopt;
  KeptStream stream;
  if (crypto_secretstream_xchacha20poly1305_init_pull(state_of(stream.state_), header.data(),
                                                      key->data()) != 0) {
    return std::nullopt;
  }
  return stream;
}

std::string KeptStream::push(std::string_view plain) {
  std::vector<unsigned char> sealed(plain.size() + kOver);
  crypto_secretstream_xchacha20poly1305_push(state_of(state_), sealed.data(), nullptr,
                                             bytes_of(plain), plain.size(), nullptr, 0, 0);
  std::string text(sodium_base64_encoded_len(sealed.size(), kBase64), '\0');
  sodium_bin2base64(text.data(), text.size(), sealed.data(), sealed.size(), kBase64);
  text.pop_back();  // the closing zero
  return text;
}

std::optional<std::string> KeptStream::pull(std::string_view base64) {
  std::vector<unsigned char> sealed(base64.size());
  std::size_t size = 0;
  if (sodium_base642bin(sealed.data(), sealed.size(), base64.data(), base64.size(), nullptr, &size,
                        nullptr, kBase64) != 0 ||
      size < kOver) {
    return std::nullopt;
  }
  std::string plain(size - kOver, '\0');
  if (crypto_secretstream_xchacha20poly1305_pull(
          state_of(state_), reinterpret_cast<unsigned char*>(plain.data()), nullptr, nullptr,
          sealed.data(), size, nullptr, 0) != 0) {
    return std::nullopt;
  }
  return plain;
}

}  // namespace redress::assessment
