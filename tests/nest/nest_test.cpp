#include "linerwright/nest.hpp"

#include <gtest/gtest.h>
