// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/paper.hpp"

#include <dlfcn.h>

#include <filesystem>
#include <system_error>

namespace redress::program {

namespace {

using Draw = bool (*)(const assessment::ReportDocument*, std::string*);
constexpr const char* kModule = "redress_paper.so";

}  // namespace

Result<std::string> make_pdf(const assessment::ReportDocument& document) {
  std::error_code error;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
  const std::string path = (program.parent_path() / kModule).string();
  void* const module = dlopen(path.c_str(), RTLD_NOW);  // stays for as long as the program runs
  void* const door = module == nullptr ? nullptr : dlsym(module, "redress_draw_pdf");
  if (door == nullptr) {
    const char* const why = dlerror();
    return Problems{{"", std::string("PDF cannot be made: ") +
                             (why == nullptr ? path + " is not there" : why) +
                             "; allowed: HTML, or install libcairo2 and libpangocairo-1.0-0"}};
  }
  std::string out;
  if (!reinterpret_cast<Draw>(door)(&document, &out)) {
    return Problems{{"", "PDF cannot be made: " + out}};
  }
  return out;
}

}  // namespace redress::program
