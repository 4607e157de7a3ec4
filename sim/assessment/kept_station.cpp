// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/kept_station.hpp"

#include <array>
#include <utility>

#include "sim/assessment/station_lines.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::assessment {

namespace {

using nlohmann::json;

constexpr std::size_t kLongText = 4000;
constexpr std::int64_t kLongestMs = 172'800'000;

std::string line_name(std::size_t line) { return "line " + std::to_string(line); }

constexpr std::string_view kBase64 =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/=";

struct KeptLine {
  Tick at_ms = 0;
  std::string_view base64;
};
// Nearly all lines are {"at_ms":250,"kept":"..."}: read without taking JSON apart, where they are
// exactly so. `body` as of SignedLine.
std::optional<KeptLine> find_kept(std::string_view body) {
  constexpr std::string_view kBegin = "{\"at_ms\":";
  constexpr std::string_view kMiddle = ",\"kept\":\"";
  constexpr std::size_t kMostDigits = 9;
  if (!body.starts_with(kBegin)) return std::nullopt;
  std::size_t at = kBegin.size();
  KeptLine line;
  const std::size_t digits = at;
  for (; at < body.size() && body[at] >= '0' && body[at] <= '9'; ++at) {
    line.at_ms = 10 * line.at_ms + (body[at] - '0');
    if (at - digits >= kMostDigits) return std::nullopt;
  }
  const std::size_t count = at - digits;
  if (count == 0 || (count > 1 && body[digits] == '0') || line.at_ms > kLongestMs) {
    return std::nullopt;
  }
  if (!body.substr(at).starts_with(kMiddle) || !body.ends_with('"')) return std::nullopt;
  at += kMiddle.size();
  if (body.size() < at + 1) return std::nullopt;
  line.base64 = body.substr(at, body.size() - at - 1);
  std::array<bool, 256> known{};
  for (const char c : kBase64) known[static_cast<unsigned char>(c)] = true;
  for (const char c : line.base64) {
    if (!known[static_cast<unsigned char>(c)]) return std::nullopt;
  }
  return line;
}

/// What a walk over the lines meets, for who wants more than a verdict.
struct Segment {
  StreamSecret secret;
  std::vector<std::string> kept;  ///< base64
};

/// The last signature of a key answers for all lines before it: a walk that is not thorough checks
/// no other. It says that something is wrong, not always where; a thorough one does.
class Walk {
 public:
  Walk(std::string_view text, const std::optional<CircuitId>& circuit, bool thorough)
      : text_(text), circuit_(circuit), thorough_(thorough) {}

  StationVerdict run();
  std::vector<Segment>& segments() { return segments_; }

 private:
  void walk();
  // Each returns false when the verdict is final.
  bool read_first(const json& line);
  bool read_line(const json& line);
  bool read_key(const json& holder, std::string& workstation);
  bool check_last();
  void conclude(Standing standing, std::string message) {
    verdict_.standing = standing;
    verdict_.line = line_;
    verdict_.message = std::move(message);
  }
  bool altered(const std::string& why) {
    conclude(Standing::altered, "was altered at " + line_name(line_) + ": " + why);
    return false;
  }

  std::string_view text_;
  const std::optional<CircuitId>& circuit_;
  StationVerdict verdict_;
  std::vector<Segment> segments_;
  bool thorough_;
  PublicKey key_{};
  std::optional<SignedLine> last_;  // whose signature has not been checked
  std::string chain_before_last_;
  std::size_t line_ = 0;
  bool ended_ = false;
};

bool Walk::check_last() {
  const bool good = !last_ || fits(*last_, key_, chain_before_last_);
  last_.reset();
  return good || altered("its signature does not fit it and the lines before");
}

// The key that signs from here, and the secret of what it keeps.
bool Walk::read_key(const json& holder, std::string& workstation) {
  Problems problems;
  ObjectReader reader(holder, "", problems);
  workstation = reader.required_string("workstation", kLongText).value_or("");
  const std::string key = reader.required_string("key", kLongText).value_or("");
  const std::string certificate = reader.required_string("certificate", kLongText).value_or("");
  Segment segment;
  segment.secret.secret = reader.required_string("secret", kLongText).value_or("");
  segment.secret.header = reader.required_string("header", kLongText).value_or("");
  if (!problems.empty() || !from_hex_text(key, key_)) return altered("its key is not one");
  if (!is_certified(verdict_.identity.circuit, workstation, key_, certificate)) {
    return altered("its circuit has not certified the workstation");
  }
  segments_.push_back(std::move(segment));
  return true;
}

bool Walk::read_first(const json& line) {
  Problems problems;
  ObjectReader reader(line, "", problems);
  const std::string format = reader.required_string("format", kLongText).value_or("");
  const auto version = reader.required_integer("version", 1, std::int64_t{1} << 31);
  if (format != kStationFormat) {
    conclude(Standing::not_a_station, "is not a kept station");
    return false;
  }
  if (version && *version > kStationVersion) {
    conclude(Standing::newer_version, "is of a newer version: " + std::to_string(*version) +
                                          "; allowed: " + std::to_string(kStationVersion));
    return false;
  }
  const auto circuit = parse_circuit_id(reader.required_string("circuit", kLongText).value_or(""));
  verdict_.identity.candidate = reader.required_string("candidate", kLongText).value_or("");
  const auto station = reader.required_integer("station", 1, 1000);
  if (!circuit || !station || !problems.empty()) return altered("it does not say whose it is");
  verdict_.identity.circuit = *circuit;
  verdict_.identity.station = static_cast<std::size_t>(*station - 1);
  if (!read_key(line, verdict_.identity.workstation)) return false;
  return true;
}

bool Walk::read_line(const json& line) {
  // A signed line that this program did not write is a newer one's.
  const auto at = line.find("at_ms");
  if (at == line.end() || !at->is_number_integer() || *at < 0 || *at > kLongestMs) {
    return altered("it says no time");
  }
  const bool resumed = line.contains("resumed");
  std::string workstation;
  if (resumed) {
    if (!check_last()) return false;  // by the key that goes
    if (!read_key(line["resumed"], workstation)) return false;
  }
  verdict_.used_ms = at->get<Tick>();
  if (resumed) {
    ++verdict_.resumptions;
    verdict_.events.push_back({verdict_.used_ms, "resumed", json{{"workstation", workstation}}});
  } else if (line.contains("kept") && line["kept"].is_string()) {
    segments_.back().kept.push_back(line["kept"].get<std::string>());
  } else if (line.contains("event") && line["event"].is_string()) {
    verdict_.events.push_back(
        {verdict_.used_ms, line["event"].get<std::string>(), line.value("detail", json::object())});
  } else if (line.contains("end")) {
    ended_ = true;
  }
  return true;
}

StationVerdict Walk::run() {
  walk();
  // What was read before a fault is only as good as its signatures.
  if (verdict_.standing == Standing::intact || verdict_.standing == Standing::cut_short) {
    if (check_last() && circuit_ && verdict_.good_lines > 0 &&
        !(*circuit_ == verdict_.identity.circuit)) {
      conclude(Standing::other_circuit, "is not from this circuit (" + to_short_text(*circuit_) +
                                            ") but from " +
                                            to_short_text(verdict_.identity.circuit));
    }
  }
  return verdict_;
}

void Walk::walk() {
  if (text_.empty()) {
    conclude(Standing::not_a_station, "is empty");
    return;
  }
  while (verdict_.good_bytes < text_.size()) {
    const std::string_view rest = text_.substr(verdict_.good_bytes);
    const std::size_t size = rest.find('\n');
    const std::string_view content = rest.substr(0, size);
    ++line_;
    if (line_ == 1 && !is_kept_station(text_)) {
      // A flipped bit in the first bytes, or another kind of file.
      if (find_signature(content)) {
        altered("it does not begin as it should");
      } else {
        conclude(Standing::not_a_station, "is not a kept station");
      }
      return;
    }
    const std::optional<SignedLine> parts = find_signature(content);
    if (size == std::string_view::npos) {
      const bool other_end =
          content.size() > 1 && find_signature(content.substr(0, content.size() - 1));
      if (ended_) {
        altered("it stands after the closing line");
      } else if (other_end) {
        altered("its line end is another character");
      } else {
        conclude(Standing::cut_short, "was cut short in " + line_name(line_));
      }
      return;
    }
    if (ended_) {
      altered("it stands after the closing line");
      return;
    }
    const auto kept = parts && line_ > 1 ? find_kept(parts->body) : std::nullopt;
    if (kept) {
      verdict_.used_ms = kept->at_ms;
      segments_.back().kept.emplace_back(kept->base64);
    } else {
      const Result<json> line =
          parts ? parse_json(std::string(parts->body) + "}") : Result<json>(Problems{});
      if (!line || !line.value().is_object()) {
        altered(parts ? "it cannot be read" : "it does not end with its signature");
        return;
      }
      if (!(line_ == 1 ? read_first(line.value()) : read_line(line.value()))) return;
    }
    last_ = *parts;
    chain_before_last_ = verdict_.chain;
    if (thorough_ && !check_last()) return;
    verdict_.chain = calc_next_chain(*parts, verdict_.chain);
    verdict_.good_lines = line_;
    verdict_.good_bytes += size + 1;
  }
  if (ended_) {
    conclude(Standing::intact, "is intact (" + std::to_string(line_) +
                                   " lines, signed for circuit " +
                                   to_short_text(verdict_.identity.circuit) + ")");
  } else {
    conclude(Standing::cut_short,
             "was cut short after " + line_name(line_) + ": the closing line is missing");
  }
}

}  // namespace

bool is_kept_station(std::string_view text) {
  return text.starts_with("{\"format\":\"" + std::string(kStationFormat) + "\"");
}

StationVerdict verify_station(std::string_view text, const std::optional<CircuitId>& circuit) {
  const StationVerdict quick = Walk(text, circuit, false).run();
  if (quick.standing != Standing::altered) return quick;
  return Walk(text, circuit, true).run();
}

Result<OpenedStation> open_station(std::string_view text, const CircuitKeys& circuit) {
  const std::optional<CircuitId> id = circuit.id();
  Walk walk(text, id, true);
  OpenedStation opened;
  opened.verdict = walk.run();
  const bool usable = opened.verdict.intact() || opened.verdict.standing == Standing::cut_short;
  if (!usable || walk.segments().empty()) return Problems{{"", opened.verdict.message}};
  for (const Segment& segment : walk.segments()) {
    std::optional<KeptStream> stream = KeptStream::open(circuit, segment.secret);
    if (!stream) return Problems{{"", "was not sealed to this circuit"}};
    for (const std::string& kept : segment.kept) {
      const std::optional<std::string> plain = stream->pull(kept);
      if (!plain) return Problems{{"", "holds a line that its workstation did not encrypt"}};
      opened.record += *plain;
    }
  }
  return opened;
}

}  // namespace redress::assessment
