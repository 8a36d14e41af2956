// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files/kept_files.h"
#include "load/path_keys.h"
#include "load/table_reader.h"
#include "rig/rod.h"

namespace evenspit {

/// What the readers of one load file share.
struct Reading {
    std::filesystem::path models;     ///< the model library
    const KeptFiles* kept = nullptr;  ///< shapes of earlier runs; null: none
    bool models_missed = false;       ///< there is none, which has been told
    // Of the rod, which is read first; absent where that went wrong, which has been told.
    std::optional<double> rod_length_m{};
    std::optional<Section> section{};
    Complaints complaints;
    std::vector<std::string> remarks;  ///< assumptions, one sentence each
};

/// Keys of a model that make no sense any more beside a key that the load file gives.
struct Displaced {
    std::string_view by;
    std::vector<std::string_view> keys;
};

/// A table of the load file laid over the model that its `model` key names.
struct WithModel {
    TomlNode table;        ///< without `model`, `about` and `source`; every value keeps its own place
    std::string model;     ///< name of the model, "" if there is none
    bool complete = true;  ///< false: the model was not found or not read, which has been told
};

/// Lays a table over its model, if it names one.
WithModel over_model(TableReader& given, std::string_view kind, const std::vector<Displaced>& displaced,
                     Reading& reading);

/// The file of a model with `about` and `source` taken off; complains (at `key` of `user`) about a name that
/// is not there, with those that are.
std::optional<TomlNode> read_model(TableReader& user, std::string_view key, std::string_view kind,
                                   std::string_view name, Reading& reading);

/// Complains about the place that a key gives along the rod, where the rod does not reach there. Says nothing
/// while the rod's length is not known.
void keep_on_rod(TableReader& given, std::string_view key, double station_m, const Reading& reading);

/// The place that a required key gives along the rod; complains as keep_on_rod() does.
double read_station(TableReader& given, std::string_view key, const Reading& reading);

/// Where the file is that a path key of a table names, or the list of names there does.
///
/// \pre the key is there
std::filesystem::path named_file(TableReader& table, const PathKey& key, const std::string& name);

/// Tells the complaints of something that knows nothing of the load file (a mesh, a body) at a key of it.
void complain_at(TableReader& table, std::string_view key, const InputError& error);

}  // namespace evenspit
