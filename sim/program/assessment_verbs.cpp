// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/assessment_verbs.hpp"

#include <string>

#include <CLI/CLI.hpp>

#include "sim/record/record_format.hpp"

namespace redress::program {

namespace {

void add_seed(CLI::App& verb, std::uint64_t& seed) {
  verb.add_option("--seed", seed, "chance of the simulated candidates")
      ->check(CLI::Range(std::uint64_t{0}, record::kLargestSeed));
}

void add_circuit(CLI::App& app, CircuitOptions& o, int& code) {
  auto* verb = app.add_subcommand("circuit", "what a circuit comes to when the engine tries it");
  verb->add_option("circuit", o.circuit_path, "CIRCUIT")->required();
  verb->add_option("--candidates", o.candidates, "simulated ones, to tell how hard it is")
      ->check(CLI::Range(std::uint64_t{0}, std::uint64_t{100'000}));
  verb->add_option("--skill", o.skill, "novice, trainee, expert, or shares of them");
  add_seed(*verb, o.seed);
  verb->add_flag("--json", o.as_json, "as JSON");
  verb->callback([&] { code = try_circuit(o); });
}

void add_rehearse(CLI::App& app, RehearseOptions& o, int& code) {
  auto* verb = app.add_subcommand("rehearse", "send simulated practitioners through a circuit");
  verb->add_option("circuit", o.circuit_path, "CIRCUIT")->required();
  verb->add_option("--candidates", o.candidates, "how many, over all shards")
      ->check(CLI::Range(std::uint64_t{1}, std::uint64_t{100'000}));
  verb->add_option("--skill", o.skill, "novice, trainee, expert, or shares of them");
  add_seed(*verb, o.seed);
  verb->add_option("--shard", o.shard, "I/N: every Nth candidate, from the Ith");
  verb->add_option("--threads", o.threads, "default: as many as there are processors")
      ->check(CLI::Range(1, 256));
  verb->add_option("--marks", o.marks_path, "every candidate's marks, as CSV");
  verb->add_option("--report", o.report_path, "the cohort report, HTML");
  verb->add_option("--pdf", o.pdf_path, "the cohort report, PDF");
  verb->add_option("--merge", o.merge, "marks of shards, instead of sending anybody");
  verb->callback([&] { code = rehearse(o); });
}

void add_sealing(CLI::App& app, AssessmentOptions& all, int& code) {
  constexpr const char* kAsks = "; the passphrase is read from standard input";
  auto* seal_verb =
      app.add_subcommand("seal", std::string("seal a circuit under a passphrase") + kAsks);
  seal_verb->add_option("circuit", all.seal.circuit_path, "CIRCUIT")->required();
  seal_verb->add_option("--out", all.seal.out_path, "the sealed file")->required();
  seal_verb->callback([&] { code = seal(all.seal); });

  auto* sealed = app.add_subcommand("sealed", std::string("what a sealed circuit is") + kAsks);
  sealed->add_option("sealed", all.sealed.sealed_path, "SEALED")->required();
  sealed->add_option("--against", all.sealed.against_path,
                     "the circuit file: what has changed since it was sealed?");
  sealed->callback([&] { code = inspect_sealed(all.sealed); });

  auto* sit_verb = app.add_subcommand(
      "sit", std::string("one candidate at one station, without a window") + kAsks);
  sit_verb->add_option("sealed", all.sit.sealed_path, "SEALED")->required();
  sit_verb->add_option("--station", all.sit.station, "from 1")->required();
  sit_verb->add_option("--candidate", all.sit.candidate, "number")->required();
  sit_verb->add_option("--workstation", all.sit.workstation, "name")->required();
  sit_verb->add_option("--acts", all.sit.acts_path, "without: the reference examiner sits");
  sit_verb->add_option("--out", all.sit.out_path, "what the workstation keeps")->required();
  sit_verb->add_flag("--resume", all.sit.resume,
                     "after a crash: go on with what was kept, with the time that had been used");
  sit_verb->callback([&] { code = sit(all.sit); });

  auto* open_verb = app.add_subcommand(
      "open", std::string("what a workstation kept, as a record to replay and score") + kAsks);
  open_verb->add_option("station", all.open.station_path, "STATION")->required();
  open_verb->add_option("--circuit", all.open.sealed_path, "the sealed circuit")->required();
  open_verb->add_option("--record", all.open.record_path, "the record to write")->required();
  open_verb->callback([&] { code = open_kept(all.open); });
}

void add_results(CLI::App& app, AssessmentOptions& all, int& code) {
  constexpr const char* kStore = "a SQLite file, or postgresql://...";
  constexpr const char* kSealed = "the sealed circuit; its passphrase is read from standard input";
  auto* hand = app.add_subcommand("hand-in", "what workstations kept, into the store");
  hand->add_option("stations", all.hand_in.paths, "STATION...")->required();
  hand->add_option("--store", all.hand_in.store, kStore)->required();
  hand->add_option("--at", all.hand_in.at, "time of day, kept as it is");
  hand->callback([&] { code = hand_in(all.hand_in); });

  auto* mark_verb = app.add_subcommand("mark", "sign an assessor's overrulings and ratings");
  mark_verb->add_option("entries", all.mark.entries_path, "ENTRIES, one JSON object a line")
      ->required();
  mark_verb->add_option("--circuit", all.mark.sealed_path, kSealed)->required();
  mark_verb->add_option("--assessor", all.mark.assessor, "who marks")->required();
  mark_verb->add_option("--out", all.mark.out_path, "the ledger")->required();
  mark_verb->callback([&] { code = mark(all.mark); });

  auto* results_verb = app.add_subcommand("results", "score, and report on a cohort, as JSON");
  results_verb->add_option("--store", all.results.store, kStore)->required();
  results_verb->add_option("--circuit", all.results.sealed_path, kSealed)->required();
  results_verb->add_option("--marks", all.results.ledgers, "assessors' ledgers");
  results_verb->add_option("--candidate", all.results.candidate, "one candidate's page instead");
  results_verb->add_option("--html", all.results.html_path, "the report");
  results_verb->add_option("--pdf", all.results.pdf_path, "the report on paper");
  results_verb->add_option("--certificate", all.results.certificate_path,
                           "PDF for a candidate who passed; needs --candidate");
  results_verb->add_option("--csv", all.results.csv_path, "marks, for a spreadsheet");
  results_verb->add_option("--moderation", all.results.moderation_path,
                           "CSV for the meeting: marks, ratings, overrulings, exposure");
  results_verb->add_option("--release", all.results.release_folder,
                           "folder: write each candidate's debriefs, truth and marks, in clear");
  results_verb->add_option("--xapi", all.results.xapi_path,
                           "statements for a learning record store");
  results_verb->add_option("--home-page", all.results.home_page,
                           "of the candidates' accounts, in statements");
  results_verb->add_option("--post-to", all.results.post_to,
                           "post the statements to the learning record store at this address");
  results_verb->add_option("--post-login", all.results.post_login_path,
                           "file with name:password in its first line");
  results_verb->add_option("--post-authority", all.results.post_authority,
                           "file of certificates to trust");
  results_verb->add_option("--when", all.results.when,
                           "date, as it is to be printed; ISO 8601 for statements");
  results_verb->callback([&] { code = results(all.results); });
}

}  // namespace

void add_assessment_verbs(CLI::App& app, AssessmentOptions& options, int& code) {
  add_circuit(app, options.circuit, code);
  add_rehearse(app, options.rehearse, code);
  add_sealing(app, options, code);
  add_results(app, options, code);
}

}  // namespace redress::program
