// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <filesystem>
#include <system_error>
#include <utility>

namespace redress {

namespace {

/// The place that a rename must replace: symbolic links are followed, so that they stay links.
std::string place_behind_links(const std::string& path) {
  std::error_code error;
  const std::filesystem::path place = std::filesystem::canonical(path, error);
  return error ? path : place.string();
}

/// Opens a new file beside `path` that nobody else has; its name goes to `name`. -1 on failure.
int open_beside(const std::string& path, std::string& name) {
  constexpr int kTries = 100;  // names taken by files left behind after a power cut
  for (int i = 0; i < kTries; ++i) {
    name = path + "." + std::to_string(getpid()) + "-" + std::to_string(i) + ".part";
    const int handle = open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (handle >= 0 || errno != EEXIST) return handle;
  }
  return -1;
}

}  // namespace

std::string system_message(int error) { return std::generic_category().message(error); }

Result<std::string> read_file(const std::string& path, std::size_t largest) {
  std::FILE* const stream = std::fopen(path.c_str(), "rbe");
  if (stream == nullptr) return Problems{{"", "cannot be opened: " + system_message(errno)}};
  std::string text;
  std::array<char, 65536> block;
  Problems problems;
  for (;;) {
    errno = 0;
    const std::size_t count = std::fread(block.data(), 1, block.size(), stream);
    const int error = errno;
    if (count > largest - text.size()) {
      problems.push_back(
          {"", "has more bytes than the " + std::to_string(largest) + " that are allowed"});
      break;
    }
    text.append(block.data(), count);
    if (count == block.size()) continue;
    if (std::ferror(stream) != 0) {
      problems.push_back({"", "cannot be read: " + system_message(error)});
    }
    break;
  }
  std::fclose(stream);
  if (!problems.empty()) return problems;
  return text;
}

WholeFile::WholeFile(std::string path, Durability durability)
    : path_(std::move(path)), durability_(durability) {
  struct stat status {};
  const bool exists = stat(path_.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode)) {
    fail("cannot be written", EISDIR);
    return;
  }
  if (exists && !S_ISREG(status.st_mode)) {
    stream_ = std::fopen(path_.c_str(), "wbe");
    if (stream_ == nullptr) fail("cannot be opened for writing", errno);
    return;
  }
  if (exists && access(path_.c_str(), W_OK) != 0) {
    fail("cannot be replaced", errno);
    return;
  }
  path_ = place_behind_links(path_);
  const int handle = open_beside(path_, temporary_);
  if (handle < 0) {
    const int error = errno;
    temporary_.clear();
    fail("cannot be created", error);
    return;
  }
  if (exists) (void)fchmod(handle, status.st_mode & 07777);  // keeps the rights of what it replaces
  stream_ = fdopen(handle, "wb");
  if (stream_ == nullptr) {
    fail("cannot be created", errno);
    close(handle);
  }
}

WholeFile::~WholeFile() { discard(); }

void WholeFile::write(std::string_view bytes) {
  if (stream_ == nullptr || bytes.empty()) return;
  errno = 0;
  if (std::fwrite(bytes.data(), 1, bytes.size(), stream_) != bytes.size()) {
    fail("cannot be written", errno);
  }
}

std::optional<Problem> WholeFile::commit() {
  if (stream_ == nullptr) {
    if (!problem_) problem_ = Problem{"", "was already put in its place"};
    return problem_;
  }
  errno = 0;
  // The bytes must be on the disk before the name points to them, or a power cut leaves an empty
  // file. A pipe cannot be synchronised; that is no error.
  const bool must_wait = durability_ == Durability::power_cut && !temporary_.empty();
  const bool written = std::fflush(stream_) == 0 && (!must_wait || fsync(fileno(stream_)) == 0);
  if (!written) {
    fail("cannot be written", errno);
    return problem_;
  }
  std::FILE* const stream = stream_;
  stream_ = nullptr;
  if (std::fclose(stream) != 0) {
    fail("cannot be written", errno);
  } else if (!temporary_.empty() && std::rename(temporary_.c_str(), path_.c_str()) != 0) {
    fail("cannot be put in its place", errno);
  } else {
    temporary_.clear();
  }
  return problem_;
}

void WholeFile::fail(const char* what, int error) {
  if (!problem_) problem_ = Problem{"", std::string(what) + ": " + system_message(error)};
  discard();
}

void WholeFile::discard() {
  if (stream_ != nullptr) std::fclose(stream_);
  stream_ = nullptr;
  if (!temporary_.empty()) std::remove(temporary_.c_str());
  temporary_.clear();
}

std::optional<Problem> write_whole_file(const std::string& path, std::string_view bytes) {
  WholeFile file(path);
  file.write(bytes);
  return file.commit();
}

}  // namespace redress
