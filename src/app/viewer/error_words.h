// SPDX-License-Identifier: MIT
#pragma once

#include <exception>
#include <string>

namespace evenspit::viewer {

/// What went wrong, for the cook: a complaint a line.
std::string words_of(const std::exception& error);

}  // namespace evenspit::viewer
