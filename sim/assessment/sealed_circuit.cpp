// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/sealed_circuit.hpp"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "sim/assessment/circuit_file.hpp"
#include "sim/basics/content_hash.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/record/record_format.hpp"

namespace redress::assessment {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

constexpr std::size_t kMostMemory = std::size_t{1} << 30;
constexpr std::uint64_t kMostOperations = 20;
constexpr const char* kDoesNotOpen = "that does not open it";

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}
unsigned char* bytes_of(std::string& text) { return reinterpret_cast<unsigned char*>(text.data()); }

using Salt = std::array<unsigned char, crypto_pwhash_SALTBYTES>;
using StreamHeader = std::array<unsigned char, crypto_secretstream_xchacha20poly1305_HEADERBYTES>;

struct Opening {
  std::string_view line;     ///< the first line, without its end
  std::string_view message;  ///< the encrypted part
  CircuitId id;
  Salt salt{};
  StretchCost cost;
  StreamHeader header{};
};

std::string calc_check(std::string_view text) {
  const auto hash = calc_hash_bytes(text);
  return {hash.begin(), hash.end()};
}

LockedBytes stretch(std::string_view passphrase, const Salt& salt, const StretchCost& cost) {
  LockedBytes key(crypto_secretstream_xchacha20poly1305_KEYBYTES);
  if (crypto_pwhash(key.data(), key.size(), passphrase.data(), passphrase.size(), salt.data(),
                    cost.operations, cost.memory_bytes, crypto_pwhash_ALG_ARGON2ID13) != 0) {
    throw std::bad_alloc();  // not enough memory for the stretching
  }
  return key;
}

Problems damaged(std::string what) {
  return {{"", "was altered or cut short since it was sealed: " + std::move(what)}};
}

Result<Opening> read_opening(std::string_view sealed) {
  if (!is_sealed_circuit(sealed)) return Problems{{"", "is not a sealed circuit"}};
  const std::size_t end = sealed.find('\n');
  if (end == std::string_view::npos || sealed.size() < end + 1 + kContentHashBytes) {
    return damaged("its first line has no end");
  }
  const std::string_view front = sealed.substr(0, sealed.size() - kContentHashBytes);
  if (calc_check(front) != sealed.substr(front.size())) {
    return damaged("its check number does not fit");
  }
  Opening opening;
  opening.line = sealed.substr(0, end);
  opening.message = front.substr(end + 1);
  const Result<json> value = parse_json(opening.line);
  if (!value) return value.problems();
  Problems problems;
  ObjectReader reader(value.value(), "", problems);
  (void)reader.required_string("format", 100);
  const auto version = reader.required_integer("version", 1, std::int64_t{1} << 31);
  if (version && *version != kSealedVersion) {
    return Problems{{"/version", "is " + std::to_string(*version) + ", a newer version; allowed: " +
                                     std::to_string(kSealedVersion)}};
  }
  const auto id = parse_circuit_id(reader.required_string("circuit", 200).value_or(""));
  const std::string salt = reader.required_string("salt", 200).value_or("");
  const std::string header = reader.required_string("header", 200).value_or("");
  // A file from elsewhere must not take all the memory of a workstation.
  opening.cost.operations = static_cast<std::uint64_t>(
      reader.required_integer("operations", 1, kMostOperations).value_or(1));
  opening.cost.memory_bytes = static_cast<std::size_t>(
      reader.required_integer("memory_bytes", 8192, kMostMemory).value_or(8192));
  reader.finish();
  if (!problems.empty()) return problems;
  if (!id || !from_hex_text(salt, opening.salt) || !from_hex_text(header, opening.header)) {
    return damaged("its first line is not as it was written");
  }
  opening.id = *id;
  return opening;
}

ordered_json write_content(const Circuit& circuit, const std::vector<std::vector<Form>>& forms,
                           const CircuitKeys& keys) {
  ordered_json content = ordered_json::object();
  content["engine"] = std::string(record::kEngineVersion);
  content["seed"] = to_hex_text({keys.seed().data(), keys.seed().size()});
  content["circuit"] = to_json(circuit);
  content["forms"] = ordered_json::array();
  for (const auto& station : forms) {
    ordered_json list = ordered_json::array();
    for (const Form& form : station) {
      list.push_back(ordered_json{{"seed", form.seed}, {"case", form.written}});
    }
    content["forms"].push_back(list);
  }
  return content;
}

// What is inside was written by seal_circuit: a fault in it is a forger's or a newer program's.
Result<OpenedCircuit> read_content(const LockedBytes& text) {
  const Result<json> value =
      parse_json(text.text(), {.size_bytes = std::size_t{256} << 20, .depth = 40});
  if (!value) return value.problems();
  const json& content = value.value();
  Problems problems;
  ObjectReader reader(content, "", problems);
  std::string engine = reader.required_string("engine", 100).value_or("");
  const std::string seed_text = reader.required_string("seed", 100).value_or("");
  const json* circuit_json = reader.raw("circuit");
  const json* forms_json = reader.required_array("forms", 1, 100);
  reader.finish();
  LockedBytes seed(kKeyBytes);
  if (!from_hex_text(seed_text, {seed.data(), seed.size()}) || circuit_json == nullptr ||
      forms_json == nullptr || !problems.empty()) {
    return Problems{{"", "holds something else than a circuit of this version"}};
  }
  Result<Circuit> circuit = parse_circuit(*circuit_json);
  if (!circuit) return circuit.problems();
  std::vector<std::vector<Form>> forms;
  for (const json& station : *forms_json) {
    std::vector<Form> list;
    for (const json& one : station) {
      Form form;
      form.seed = one.at("seed").get<std::uint64_t>();
      form.written = one.at("case");
      const Result<Case> read = parse_case(form.written);
      if (!read) return read.problems();
      form.content = read.value();
      list.push_back(std::move(form));
    }
    forms.push_back(std::move(list));
  }
  if (forms.size() != circuit.value().stations.size()) {
    return Problems{{"", "holds other patients than its stations need"}};
  }
  return OpenedCircuit{std::move(circuit).value(), std::move(forms), CircuitKeys(std::move(seed)),
                       std::move(engine)};
}

}  // namespace

bool is_sealed_circuit(std::string_view text) {
  return text.starts_with("{\"format\":\"" + std::string(kSealedFormat) + "\"");
}

Result<std::string> seal_circuit(const Circuit& circuit,
                                 const std::vector<std::vector<Form>>& forms,
                                 std::string_view passphrase, const StretchCost& cost) {
  if (passphrase.size() < kShortestPassphrase) {
    return Problems{{"", "the passphrase has " + std::to_string(passphrase.size()) +
                             " bytes; allowed: " + std::to_string(kShortestPassphrase) +
                             " and more"}};
  }
  const CircuitKeys keys;
  Salt salt{};
  randombytes_buf(salt.data(), salt.size());
  const LockedBytes key = stretch(passphrase, salt, cost);
  crypto_secretstream_xchacha20poly1305_state state;
  StreamHeader header{};
  crypto_secretstream_xchacha20poly1305_init_push(&state, header.data(), key.data());

  ordered_json first = ordered_json::object();
  first["format"] = std::string(kSealedFormat);
  first["version"] = kSealedVersion;
  first["circuit"] = to_text(keys.id());
  first["salt"] = to_hex_text(salt);
  first["operations"] = cost.operations;
  first["memory_bytes"] = cost.memory_bytes;
  first["header"] = to_hex_text(header);
  std::string sealed = first.dump();

  std::string written = write_content(circuit, forms, keys).dump();
  std::string message(written.size() + crypto_secretstream_xchacha20poly1305_ABYTES, '\0');
  crypto_secretstream_xchacha20poly1305_push(&state, bytes_of(message), nullptr, bytes_of(written),
                                             written.size(), bytes_of(sealed), sealed.size(),
                                             crypto_secretstream_xchacha20poly1305_TAG_FINAL);
  sodium_memzero(written.data(), written.size());
  sodium_memzero(&state, sizeof state);
  sealed += "\n" + message;
  sealed += calc_check(sealed);
  return sealed;
}

Result<OpenedCircuit> open_circuit(std::string_view sealed, std::string_view passphrase) {
  if (sodium_init() < 0) return Problems{{"", "the cryptographic library does not start"}};
  const Result<Opening> read = read_opening(sealed);
  if (!read) return read.problems();
  const Opening& opening = read.value();
  const LockedBytes key = stretch(passphrase, opening.salt, opening.cost);
  crypto_secretstream_xchacha20poly1305_state state;
  constexpr std::size_t kOver = crypto_secretstream_xchacha20poly1305_ABYTES;
  if (opening.message.size() < kOver || crypto_secretstream_xchacha20poly1305_init_pull(
                                            &state, opening.header.data(), key.data()) != 0) {
    return Problems{{"", kDoesNotOpen}};
  }
  LockedBytes text(opening.message.size() - kOver);
  unsigned char tag = 0;
  const int pulled = crypto_secretstream_xchacha20poly1305_pull(
      &state, text.data(), nullptr, &tag, bytes_of(opening.message), opening.message.size(),
      bytes_of(opening.line), opening.line.size());
  sodium_memzero(&state, sizeof state);
  if (pulled != 0 || tag != crypto_secretstream_xchacha20poly1305_TAG_FINAL) {
    return Problems{{"", kDoesNotOpen}};
  }
  Result<OpenedCircuit> opened = read_content(text);
  if (opened && !(opened.value().keys.id() == opening.id)) {
    return Problems{{"", "says that it is another circuit than it is"}};
  }
  return opened;
}

Result<CircuitId> read_circuit_id(std::string_view sealed) {
  const Result<Opening> opening = read_opening(sealed);
  if (!opening) return opening.problems();
  return opening.value().id;
}

Problems find_changes(const OpenedCircuit& opened, const Circuit& now,
                      const FindPatient& find_patient) {
  Problems changes;
  if (!(opened.circuit == now)) {
    changes.push_back({"", "the circuit has changed since it was sealed"});
  }
  if (opened.engine != record::kEngineVersion) {
    changes.push_back({"", "was sealed by version " + opened.engine + "; this is " +
                               std::string(record::kEngineVersion)});
  }
  for (std::size_t s = 0; s < opened.circuit.stations.size(); ++s) {
    const Station& station = opened.circuit.stations[s];
    const std::string source =
        pointer_to(pointer_to("/stations", s), station.family ? "family" : "case");
    for (std::size_t f = 0; f < opened.forms[s].size(); ++f) {
      const Result<json> found = find_patient(station, station.seeds[f]);
      const std::string who = station.family
                                  ? "the patient of seed " + std::to_string(station.seeds[f])
                                  : station.case_path;
      if (!found) {
        changes.push_back(
            {source, who + " is no longer to be had: " + found.problems().front().message});
      } else if (found.value() != opened.forms[s][f].written) {
        changes.push_back({source, who + " has changed since it was sealed"});
      }
      if (!station.family) break;  // one file, whatever the seeds
    }
  }
  return changes;
}

std::int64_t calc_wait_s(int failures) {
  constexpr int kMostDoublings = 6;
  constexpr std::int64_t kLongestS = 60;
  if (failures < 1) return 0;
  return std::min(std::int64_t{1} << std::min(failures - 1, kMostDoublings), kLongestS);
}

}  // namespace redress::assessment
