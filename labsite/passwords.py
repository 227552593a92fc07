"""What makes a password good enough, said in the house's words."""

from django.contrib.auth.password_validation import (
    CommonPasswordValidator,
    MinimumLengthValidator,
    UserAttributeSimilarityValidator,
)


class LongEnough(MinimumLengthValidator):
    def get_error_message(self):
        return f"Choose a password of {self.min_length} characters or more."


class NotCommon(CommonPasswordValidator):
    def get_error_message(self):
        return "Choose a password that is not one of the common ones."


class NotTheName(UserAttributeSimilarityValidator):
    def get_error_message(self):
        return "Choose a password that does not look like your name or your sign-in name."
