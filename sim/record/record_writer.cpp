// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/record_writer.hpp"

#include <cerrno>
#include <utility>

#include "sim/basics/content_hash.hpp"
#include "sim/basics/elementary.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/basics/state_hash.hpp"
#include "sim/record/act_json.hpp"

namespace redress::record {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

template <class Json>
std::string to_compact(const Json& value) {
  // Text that is not UTF-8 is replaced: a strange byte in a remark must not end an examination.
  return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

ordered_json to_object(const RecordHeader& header) {
  ordered_json object = ordered_json::object();
  object["format"] = std::string(kFormat);
  object["version"] = kVersion;
  object["engine"] = header.engine;
  object["arithmetic"] = header.arithmetic;
  object["tick_ms"] = 1;
  object["seed"] = header.seed;
  object["noise"] = to_json_number(header.noise);
  object["case_hash"] = header.case_hash;
  object["case"] = header.the_case;
  return object;
}

}  // namespace

std::string calc_case_hash(const json& the_case) { return calc_hash(to_compact(the_case)); }

RecordHeader make_header(json the_case, std::uint64_t seed, double noise) {
  RecordHeader header;
  header.arithmetic = to_hex(elementary::arithmetic_check());
  header.seed = seed;
  header.noise = noise;
  header.case_hash = calc_case_hash(the_case);
  header.the_case = std::move(the_case);
  return header;
}

RecordWriter::RecordWriter(std::ostream& stream, const RecordHeader& header) : stream_(stream) {
  write(to_compact(to_object(header)));
}

RecordWriter::RecordWriter(std::ostream& stream, const Resumption& from)
    : stream_(stream), chain_(from.chain), lines_(from.lines), next_seq_(from.next_seq) {}

void RecordWriter::act(const Act& act) {
  if (failed()) return;
  const Problems problems = check_act(act);
  if (!problems.empty()) {
    problem_ =
        Problem{problems.front().place, "act " + std::to_string(next_seq_) +
                                            " cannot be recorded: " + problems.front().message};
    return;
  }
  ordered_json object = ordered_json::object();
  object["seq"] = next_seq_++;
  object.update(to_ordered_json(act));
  write(to_compact(object));
}

void RecordWriter::reply(const Reply& reply) {
  ordered_json content = ordered_json::object();
  content["to"] = reply.to;
  content["answer"] = reply.answer;
  content["text"] = reply.text;
  ordered_json object = ordered_json::object();
  object["at_ms"] = reply.at_ms;
  object["reply"] = std::move(content);
  write(to_compact(object));
}

void RecordWriter::state(Tick at_ms, std::uint64_t hash) {
  write("{\"at_ms\":" + std::to_string(at_ms) + ",\"state\":\"" + to_hex(hash) + "\"}");
}

void RecordWriter::end(Tick at_ms) {
  write("{\"at_ms\":" + std::to_string(at_ms) + ",\"end\":true}");
}

void RecordWriter::write(std::string_view object) {
  if (failed()) return;
  std::string line = make_chained_line(object, chain_);
  line.push_back('\n');
  errno = 0;
  stream_.write(line.data(), static_cast<std::streamsize>(line.size()));
  stream_.flush();
  const int error = errno;
  ++lines_;
  if (stream_.good()) return;
  problem_ = Problem{"line " + std::to_string(lines_),
                     "cannot be written: " +
                         (error == 0 ? std::string("the stream failed") : system_message(error))};
}

}  // namespace redress::record
