// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/station_writer.hpp"

#include <utility>

namespace redress::assessment {

namespace {

using nlohmann::ordered_json;

std::string to_line(const ordered_json& object) {
  return object.dump(-1, ' ', false, ordered_json::error_handler_t::replace);
}

}  // namespace

StationWriter::StationWriter(const std::string& path, const WorkstationKey& key, bool go_on,
                             std::size_t keep_bytes, bool synced)
    : key_(key),
      file_(path, go_on ? AppendFile::Mode::go_on : AppendFile::Mode::create, keep_bytes, synced) {}

StationWriter::StationWriter(const std::string& path, const StationIdentity& identity,
                             const WorkstationKey& key, const record::RecordHeader& header,
                             bool synced)
    : StationWriter(path, key, false, 0, synced) {
  auto [stream, secret] = KeptStream::make(identity.circuit);
  stream_.emplace(std::move(stream));
  ordered_json first = ordered_json::object();
  first["format"] = std::string(kStationFormat);
  first["version"] = kStationVersion;
  first["circuit"] = to_text(identity.circuit);
  first["workstation"] = key.workstation;
  first["candidate"] = identity.candidate;
  first["station"] = identity.station + 1;
  first["key"] = to_hex_text(key.key.public_key());
  first["certificate"] = key.certificate;
  first["secret"] = secret.secret;
  first["header"] = secret.header;
  write_line(first);
  writer_ = std::make_unique<record::RecordWriter>(buffer_, header);
  keep(0);
}

StationWriter::StationWriter(const std::string& path, const ResumableStation& from,
                             const record::RecordHeader& header, const WorkstationKey& key,
                             bool synced)
    : StationWriter(path, key, true, from.opened.verdict.good_bytes, synced) {
  const OpenedStation& opened = from.opened;
  chain_ = opened.verdict.chain;
  auto [stream, secret] = KeptStream::make(opened.verdict.identity.circuit);
  stream_.emplace(std::move(stream));
  ordered_json line = ordered_json::object();
  line["at_ms"] = opened.verdict.used_ms;
  line["resumed"] = {{"workstation", key.workstation},
                     {"key", to_hex_text(key.key.public_key())},
                     {"certificate", key.certificate},
                     {"secret", secret.secret},
                     {"header", secret.header}};
  write_line(line);
  if (from.cut) {
    writer_ = std::make_unique<record::RecordWriter>(buffer_, from.cut->resumption);
  } else {
    writer_ = std::make_unique<record::RecordWriter>(buffer_, header);
  }
  keep(opened.verdict.used_ms);
}

void StationWriter::write_line(const ordered_json& object) {
  file_.append(make_signed_line(to_line(object), key_.key, chain_));
}

void StationWriter::keep(Tick at_ms) {
  const std::string lines = buffer_.str();
  if (!lines.empty()) {
    write_line(ordered_json{{"at_ms", at_ms}, {"kept", stream_->push(lines)}});
    buffer_.str({});
  }
  (void)file_.flush();
}

void StationWriter::act(const Act& act) { writer_->act(act); }
void StationWriter::reply(const Reply& reply) { writer_->reply(reply); }

void StationWriter::state(Tick at_ms, std::uint64_t hash) {
  writer_->state(at_ms, hash);
  // The first goes with the acts of its tick: what is shown at 0 has been looked at before.
  if (at_ms > 0) keep(at_ms);
}

void StationWriter::event(const DeskEvent& event) {
  keep(event.at_ms);
  write_line(ordered_json{{"at_ms", event.at_ms}, {"event", event.what}, {"detail", event.detail}});
  (void)file_.flush();
}

void StationWriter::end(Tick at_ms) {
  writer_->end(at_ms);
  keep(at_ms);
  write_line(ordered_json{{"at_ms", at_ms}, {"end", true}});
  (void)file_.flush();
}

std::optional<Problem> StationWriter::problem() const {
  if (writer_ && writer_->failed()) return writer_->problem();
  return file_.problem();
}

}  // namespace redress::assessment
