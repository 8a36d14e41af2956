// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "app/viewer/answers.h"
#include "app/viewer/job.h"
#include "app/viewer/scan_load.h"
#include "load/assembly.h"
#include "load/new_load_questions.h"

namespace evenspit::viewer {

/// The name under which a load that was never saved stands in its folder.
inline constexpr const char* new_load_name = "new-load.toml";

/// A load as it was read, ready to be put on the table.
struct LoadDocument {
    Assembly assembly;
    std::string text;
    std::filesystem::path file;       ///< "" for a load that was never saved
    std::filesystem::path stands_in;  ///< where paths in it count from
    std::string words;                ///< what there is to tell of it
    std::optional<Answer> answer;     ///< nothing if it cannot be worked out
    /// What has to be known first: then there is nothing else.
    std::optional<ScanQuestion> question{};
};

/// Reads a load file, makes its bodies, and works it out.
///
/// \throws InputError
/// \throws Stopped
LoadDocument read_document(const std::filesystem::path& file, const std::filesystem::path& models,
                           JobControl& control);

/// The same from a text that was never saved; its paths count from the current folder.
LoadDocument read_new_document(const std::string& text, const std::filesystem::path& models,
                               JobControl& control);

/// Makes a load for a scan on its own: one that is a closed body is taken as it is, a rough one is closed
/// first and the body written beside it.
///
/// \param told absent: a scan whose unit is not known is asked about
/// \param folder where the body of a rough scan goes; empty: beside the scan
/// \throws InputError if the scan cannot be used, or its folder takes no files
/// \throws Stopped
LoadDocument document_of_scan(const std::filesystem::path& file, const std::filesystem::path& models,
                              JobControl& control, const std::optional<ScanTold>& told = {},
                              const std::filesystem::path& folder = {});

/// Makes a load of the answers to its questions, with everything where a plan puts it; see
/// plan::first_load().
///
/// \throws InputError, told by the questions \throws Stopped
LoadDocument document_of_answers(const NewLoadAnswers& answers, const std::filesystem::path& models,
                                 JobControl& control);

}  // namespace evenspit::viewer
