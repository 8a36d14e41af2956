// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>

namespace evenspit::fuzz {

/// Something that must hold did not.
class Finding : public std::logic_error {
  public:
    using std::logic_error::logic_error;
};

inline void demand(bool holds, const std::string& what) {
    if (!holds) throw Finding(what);
}

}  // namespace evenspit::fuzz
