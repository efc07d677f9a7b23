#include "words/words.hpp"
