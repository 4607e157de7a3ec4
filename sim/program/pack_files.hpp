// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cases between packs and folders, for the verbs and for the window. Nothing that stands in a
// folder is ever written over, and of many files all are written or none.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/cases/pack.hpp"

namespace redress::program {

/// Read and checked whole, each case in it too; nothing is written.
Result<Pack> load_pack(const std::string& path);

/// A file's name, by is_pack_name, and its text.
using NamedText = std::pair<std::string, std::string>;

/// Into a folder, which is made if it is not there. Problems have the path of a file as place: a
/// name that may leave the folder, that comes twice or is taken there (by a link, too), a file that
/// cannot be written. Where there is one, nothing was left in the folder.
Problems put_into_folder(const std::vector<NamedText>& files, const std::string& folder);

/// One pack of these case files at `out_path`. Problems have the path of a file as place.
Problems write_pack_of(const std::vector<std::string>& case_paths, const std::string& title,
                       const std::string& note, const std::string& out_path);

}  // namespace redress::program
