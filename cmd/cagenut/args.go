package main

import "github.com/spf13/cobra"

// atMost refuses more than n arguments.
func atMost(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return usagef("%s takes %s, not %d; see: %s --help", cmd.Name(), arguments(n), len(args), cmd.CommandPath())
		}
		return nil
	}
}

// atLeast refuses fewer than n arguments and says what is missing.
func atLeast(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < n {
			return usagef("%s needs %s; see: %s --help", cmd.Name(), what, cmd.CommandPath())
		}
		return nil
	}
}

func arguments(n int) string {
	switch n {
	case 0:
		return "no arguments"
	case 1:
		return "one argument"
	}
	return "two arguments"
}

// exactly wants n arguments and says what they are.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return usagef("%s takes %s; see: %s --help", cmd.Name(), what, cmd.CommandPath())
		}
		return nil
	}
}
