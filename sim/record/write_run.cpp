// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/record/write_run.hpp"

#include "sim/record/file_sink.hpp"
#include "sim/record/record_writer.hpp"
#include "sim/record/run.hpp"

namespace redress::record {

std::optional<Problem> write_run(std::ostream& out, const nlohmann::json& written,
                                 const ExaminationSetup& setup, const Chance& chance,
                                 std::span<const Act> acts, Tick until_ms) {
  RecordWriter writer(out, make_header(written, chance.seed, chance.noise));
  FileSink sink;
  sink.record = &writer;
  RunOptions options;
  options.chance = chance;
  options.until_ms = until_ms;
  run(setup, acts, options, sink);
  return writer.problem();
}

}  // namespace redress::record
