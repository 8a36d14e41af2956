// SPDX-License-Identifier: MIT
// Keys of a table that are wrong, and what has to be said about them: one case of a parametrized test.
#pragma once

#include <ostream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "units/error.h"

namespace evenspit::test {

struct WrongKeys {
    const char* name;
    const char* keys;  ///< as they stand in the table
    const char* key;   ///< that is complained about
    const char* found;
    const char* expected;
    const char* mend;
};

inline void PrintTo(const WrongKeys& wrong, std::ostream* out) {
    *out << wrong.name;
}

inline std::string name_of(const testing::TestParamInfo<WrongKeys>& info) {
    return info.param.name;
}

/// \param table before the key: "spread"
inline void expect_told(const Complaint& told, const std::string& table, const WrongKeys& wrong) {
    EXPECT_EQ(told.key, table + "." + wrong.key);
    EXPECT_THAT(told.found, testing::HasSubstr(wrong.found));
    EXPECT_THAT(told.expected, testing::HasSubstr(wrong.expected));
    EXPECT_THAT(told.mend, testing::HasSubstr(wrong.mend));
}

}  // namespace evenspit::test
