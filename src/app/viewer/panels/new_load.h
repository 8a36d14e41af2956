// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <string>
#include <vector>

#include "load/models.h"
#include "load/new_load_questions.h"

namespace evenspit::viewer {

class Desk;
class Ui;

/// A load that is being made from nothing.
struct NewLoadDraft {
    NewLoadAnswers answers{};                    ///< checked ones
    std::map<std::string, std::string> typed{};  ///< by question, as it stands in its field
    std::map<std::string, std::string> taken{};  ///< by question, what of that was looked at
    std::map<std::string, std::string> wrong{};  ///< by question: what is wrong with that
    std::vector<ModelEntry> models{};            ///< to choose from
};

/// The questions that a load is made from, those that hang on answers as these are given.
void draw_new_load(Ui& ui, Desk& desk, NewLoadDraft& draft, bool opened);

}  // namespace evenspit::viewer
