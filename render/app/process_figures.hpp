// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What this process has cost so far, for figures that can be measured again. Header only: the bare
// window that the program is compared with uses it too.
#pragma once

#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#include <fstream>
#include <sstream>
#include <string>

namespace redress::app {

struct ProcessFigures {
  double since_start_ms = 0;  ///< by the clock, from the start of the process; to 10 ms
  double processor_ms = 0;    ///< of all its threads
  double resident_mib = 0;    ///< now
  double most_resident_mib = 0;
};

/// Of all its threads, so far.
inline double read_processor_ms() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

inline ProcessFigures read_process_figures() {
  ProcessFigures figures;
  timespec now{};
  figures.processor_ms = read_processor_ms();
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  figures.most_resident_mib = static_cast<double>(usage.ru_maxrss) / 1024;
  long pages = 0;
  long resident = 0;
  std::ifstream("/proc/self/statm") >> pages >> resident;
  figures.resident_mib = static_cast<double>(resident) *
                         static_cast<double>(sysconf(_SC_PAGESIZE)) / (1024.0 * 1024.0);
  // proc(5): the 22nd word is when the process began, in clock ticks since the machine did; the
  // second, in brackets, may hold spaces.
  std::string stat;
  std::getline(std::ifstream("/proc/self/stat"), stat);
  const std::size_t bracket = stat.rfind(')');
  if (bracket == std::string::npos) return figures;
  std::istringstream words(stat.substr(bracket + 1));
  std::string word;
  for (int i = 3; i <= 22 && words >> word; ++i) {
  }
  clock_gettime(CLOCK_BOOTTIME, &now);
  const double now_s = static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
  try {
    figures.since_start_ms =
        1e3 * (now_s - std::stod(word) / static_cast<double>(sysconf(_SC_CLK_TCK)));
  } catch (const std::exception&) {
    figures.since_start_ms = 0;
  }
  return figures;
}

}  // namespace redress::app
