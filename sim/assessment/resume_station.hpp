// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A station that goes on after a crash, a kill or a power cut, with the time that had been used: on
// the same workstation or on any other that has the circuit open and the file. What was kept is
// simulated again up to its last line, and must come out as it was recorded.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/basics/problem.hpp"
#include "sim/record/record_file.hpp"
#include "sim/room/examination.hpp"

namespace redress::assessment {

/// Refuses, saying why: what is altered, of another circuit, handed in already, of another
/// candidate or station than `wanted` (whose workstation may be another), of a patient that was not
/// sealed, or made by another version of the engine.
Result<ResumableStation> read_resumable(std::string_view text, const OpenedCircuit& circuit,
                                        const StationIdentity& wanted);

/// The examination as it stood at the last line that was kept: the state at that tick with the acts
/// of that tick that are in the record done. Needs has_begun(). Problem: a state came out
/// otherwise.
Result<Examination> resume_examination(const record::Record& record, const ExaminationSetup& setup);

/// When time is up, on the station's own clock: its time with the candidate's share of extra time
/// and the credits among the events (sim/assessment/sitting.hpp), whole milliseconds.
Tick calc_hard_stop(const Station& station, std::span<const DeskEvent> events);

/// From where `exam` stands to `until`, with the acts after the first `done`; then the end is kept.
/// `observed`: the state of this tick is in the record already, as after a resumption.
void sit_on(Examination& exam, std::span<const Act> acts, std::size_t done, Tick until,
            bool observed, StationWriter& writer);

}  // namespace redress::assessment
