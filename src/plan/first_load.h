// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <stop_token>
#include <string>
#include <string_view>

#include "load/new_load.h"
#include "plan/plan.h"

namespace evenspit::plan {

/// A load file made from answers, with everything where a plan puts it.
struct FirstLoad {
    std::string text;
    Assembly load;      ///< as reading `text` gives it, its cook counted in
    Analysis analysis;  ///< of `load`, by mountings
};

/// \param answers checked ones, as with_usual_answers() gives them
/// \param file that the text is going to stand in; a scan's path in the answers is relative to `from`
/// \param mountings that it is judged by
/// \param stage told by name what is done, as it begins. May throw to stop the work
/// \throws InputError for what only shows when all is read, keys as in the load file \throws Stopped
FirstLoad first_load(const NewLoadAnswers& answers, const std::filesystem::path& file,
                     const std::filesystem::path& from, const std::filesystem::path& models, int mountings,
                     const std::function<void(std::string_view what)>& stage = {},
                     const std::stop_token& stop = {});

}  // namespace evenspit::plan
