// SPDX-License-Identifier: MIT
// What html.cpp is made with. Not for others.
#pragma once

#include <string>
#include <string_view>

namespace evenspit::card {

/// page.css and page.js, as they stand in their files.
extern const std::string_view page_style;
extern const std::string_view page_script;

/// Bytes as letters (RFC 4648).
std::string base64(std::string_view bytes);

}  // namespace evenspit::card
