// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The verbs of assessment: circuit, seal, rehearse and what follows the day. Exit codes as in
// sim/program/verbs.hpp.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace redress::program {

/// Checks a circuit file with all the cases that it names; on standard output what it is.
int validate_circuit(const std::string& path);

struct CircuitOptions {
  std::string circuit_path;
  std::uint64_t candidates = 0;  ///< simulated, to tell how hard it is; 0: none
  std::string skill = "trainee";
  std::uint64_t seed = 1;
  bool as_json = false;
};
/// Tries a circuit with the engine and prints what it comes to. 1 if it must not be run so.
int try_circuit(const CircuitOptions& options);

struct RehearseOptions {
  std::string circuit_path;
  std::uint64_t candidates = 200;
  std::string skill = "trainee";
  std::uint64_t seed = 1;
  std::string shard = "1/1";
  int threads = 0;                 ///< 0: as many as there are processors
  std::string marks_path;          ///< CSV of this shard; empty: none
  std::string report_path;         ///< HTML; empty: none
  std::string pdf_path;            ///< the same on paper; empty: none
  std::vector<std::string> merge;  ///< CSVs of shards, instead of sending anybody
};
/// Sends simulated practitioners through a circuit and prints what the cohort came to, as JSON.
int rehearse(const RehearseOptions& options);

struct SealOptions {
  std::string circuit_path;
  std::string out_path;
};
/// Reads a passphrase from standard input (hidden on a terminal).
int seal(const SealOptions& options);

struct SealedOptions {
  std::string sealed_path;
  std::string against_path;  ///< a circuit file; empty: none
};
/// Opens a sealed circuit into memory; says what it is, and what has changed since.
int inspect_sealed(const SealedOptions& options);

struct SitOptions {
  std::string sealed_path;
  std::int64_t station = 1;  ///< as candidates count
  std::string candidate;
  std::string workstation;
  std::string acts_path;  ///< empty: the reference examiner sits
  std::string out_path;
  bool resume = false;  ///< go on with what was cut short at out_path
};
/// One candidate at one station, without a window: acts in, a kept station out. After a crash it is
/// resumed from what is on the disk, with the time that had been used.
int sit(const SitOptions& options);

struct OpenOptions {
  std::string station_path;
  std::string sealed_path;
  std::string record_path;
};
/// A kept station into a record that replays and scores.
int open_kept(const OpenOptions& options);

/// verify of a kept station; without `sealed_path` for the circuit that it names.
int verify_kept(const std::string& path, const std::string& text, const std::string& sealed_path);

struct HandInOptions {
  std::vector<std::string> paths;
  std::string store;
  std::string at;  ///< time of day, as the caller writes it; may be empty
};
/// What workstations kept, into the store; each counts once.
int hand_in(const HandInOptions& options);

struct MarkOptions {
  std::string sealed_path;
  std::string assessor;
  std::string entries_path;  ///< one JSON object a line: an overruling or a global rating
  std::string out_path;
};
/// Signs an assessor's entries into a ledger.
int mark(const MarkOptions& options);

struct ResultsOptions {
  std::string sealed_path;
  std::string store;
  std::vector<std::string> ledgers;
  std::string candidate;  ///< the page of one; empty: of the cohort
  std::string html_path;
  std::string pdf_path;
  std::string certificate_path;  ///< PDF, of a candidate who passed
  std::string csv_path;
  std::string moderation_path;
  std::string release_folder;  ///< debriefs for candidates; empty: nothing is released
  std::string xapi_path;
  std::string home_page = "https://example.org";  ///< of the accounts in statements
  std::string when;                               ///< date, as it is to be printed
  std::string post_to;          ///< a learning record store; empty: nothing is posted
  std::string post_login_path;  ///< file with name:password in its first line
  std::string post_authority;   ///< file of certificates to trust; empty: the system's
};
/// Scores what is in the store and prints the cohort's figures as JSON.
int results(const ResultsOptions& options);

struct AssessmentOptions {
  CircuitOptions circuit;
  RehearseOptions rehearse;
  SealOptions seal;
  SealedOptions sealed;
  SitOptions sit;
  OpenOptions open;
  HandInOptions hand_in;
  MarkOptions mark;
  ResultsOptions results;
};
/// Adds the verbs to the command line, which fills in the options; a verb that ran sets `code`.
void add_assessment_verbs(CLI::App& app, AssessmentOptions& options, int& code);

}  // namespace redress::program
