// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "app/cli/verb.h"

namespace evenspit {

/// Shells that complete what one types.
enum class Shell { bash, zsh, fish };

/// Their names, in that order.
const std::vector<std::string>& shell_names();

/// A script that teaches a shell the verbs, their options and what those take: words of a list, or files.
std::string completion_script(const std::vector<Verb>& verbs, Shell shell);

}  // namespace evenspit
